import { expect, test } from "vitest";

test("tests of this folder run in a real page: IndexedDB, WebCrypto and locks are the browser's own", async () => {
  expect(navigator.userAgent).toMatch(/Chrome\//);
  const database = await new Promise<IDBDatabase>((done, fail) => {
    const request = indexedDB.open("in-browser", 1);
    request.onupgradeneeded = () => request.result.createObjectStore("cards");
    request.onsuccess = () => done(request.result);
    request.onerror = () => fail(request.error);
  });
  const write = database.transaction("cards", "readwrite", { durability: "strict" });
  write.objectStore("cards").put(new Uint8Array([16, 14, 12]), "handicaps");
  await new Promise<void>((done, fail) => {
    write.oncomplete = () => done();
    write.onabort = () => fail(write.error);
  });
  const read = database.transaction("cards").objectStore("cards").get("handicaps");
  await new Promise((done) => {
    read.onsuccess = done;
  });
  expect([...(read.result as Uint8Array)]).toEqual([16, 14, 12]);
  expect(await navigator.locks.request("in-browser", () => "held")).toBe("held");
  expect(crypto.subtle).toBeDefined();
});
