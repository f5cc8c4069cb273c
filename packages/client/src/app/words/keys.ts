/** What keys do, as the foot of a dialog or a screen says it; the first view says none of it. */

export const keyWords = {
  backsOut: "backs out",
  saves: "saves",
  opensFirst: "opens the first one",
  chooses: "chooses",
  opens: "goes there",
} as const;
