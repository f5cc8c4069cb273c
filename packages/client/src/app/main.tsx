/** Placeholder: the screens take its place. */
const root = document.getElementById("app");
if (root !== null) root.textContent = "Sward";
