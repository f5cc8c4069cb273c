import { expect, test } from "vitest";
import { orderEvidence, orderOf, readDay } from "../../../../packages/client/src/app/files/days.ts";

const evidence = (...texts: string[]) => orderEvidence(texts.map((text, at) => ({ line: at + 2, text })));

test("a day that is written in one way only is read, whatever the order of the others", () => {
  for (const text of [
    "2031-05-04",
    "2031/5/4",
    "2031-05-04T10:30:00",
    "4 May 2031",
    "Sun 4th May 2031",
    "04-May-31",
    "May 4, 2031",
    "2031-05-04 10:30",
  ]) {
    expect([text, readDay(text, null)]).toEqual([text, { ok: true, value: "2031-05-04" }]);
  }
  expect(readDay("5/5/2031", null)).toEqual({ ok: true, value: "2031-05-05" });
});

test("3/4 is asked about, and read as it was answered", () => {
  expect(readDay("3/4/2031", null)).toEqual({ ok: false, fault: "date-order-open" });
  expect(readDay("3/4/31", "day-first")).toEqual({ ok: true, value: "2031-04-03" });
  expect(readDay("3.4.2031", "month-first")).toEqual({ ok: true, value: "2031-03-04" });
  expect(readDay("25/4/2031", "month-first")).toEqual({ ok: false, fault: "not-a-date" });
});

test("one day past the twelfth tells the order of the column, with its line; two that disagree tell none", () => {
  expect(evidence("3/4/2031", "25/4/2031")).toEqual({ dayFirst: 3, monthFirst: null, open: 2 });
  expect(orderOf(evidence("3/4/2031", "25/4/2031"))).toBe("day-first");
  expect(orderOf(evidence("4/25/2031"))).toBe("month-first");
  expect(orderOf(evidence("4/25/2031", "25/4/2031"))).toBeNull();
  expect(evidence("3/4/2031", "5/5/2031", "2031-04-03")).toEqual({ dayFirst: null, monthFirst: null, open: 1 });
  // Not a day of either order: the thirtieth of February.
  expect(orderOf(evidence("30/2/2031"))).toBeNull();
});

test("days that do not exist, numbers and words are no days", () => {
  for (const text of ["30/2/2031", "2031-02-30", "yesterday", "7-4", "4 Foo 2031", ""]) {
    expect([text, readDay(text, "day-first")]).toEqual([text, { ok: false, fault: "not-a-date" }]);
  }
  expect(readDay("48002", null)).toEqual({ ok: false, fault: "date-is-a-number" });
});
