/** Everything that can be found on this device now, with what the commands do. */
import type { PlayerId } from "@sward/core";
import { useMemo } from "preact/hooks";
import { useLocation } from "preact-iso";
import { useDesk, version } from "../desk-store.ts";
import { nameIn, shortNameIn } from "../names.ts";
import { places } from "../place.ts";
import { saved, undoSaved } from "../saved.ts";
import { searchWords } from "../words/search.ts";
import type { Goes, Thing } from "./find.ts";
import { screenThings } from "./screens.ts";
import { over } from "./search-state.ts";
import { thingsOf } from "./things.ts";

export function useThings(): readonly Thing[] {
  const desk = useDesk();
  const { route } = useLocation();
  const found = useMemo(() => {
    const named = (player: PlayerId) => ({ name: nameIn(desk, player), short: shortNameIn(desk, player) });
    return thingsOf(desk, named, desk.today());
  }, [desk, version.value]);
  const { commands } = searchWords;
  const command = (name: keyof typeof commands, goes: Goes, detail = ""): Thing => ({
    key: `command ${name}`,
    kind: "command",
    ...commands[name],
    detail,
    goes,
  });
  const act = (run: () => void): Goes => ({ to: "act", act: run });
  const last = saved.value;
  return [
    ...found,
    ...screenThings(),
    ...(last?.undo == null
      ? []
      : [
          command(
            "undo",
            act(() => void undoSaved()),
            last.sentence,
          ),
        ]),
    command("add", { to: "place", place: places.members, query: { add: "1" } }),
    desk.isPaused() ? command("online", act(desk.goOnline)) : command("offline", act(desk.goOffline)),
    // The question goes away before the page is printed.
    command(
      "print",
      act(() => setTimeout(() => window.print(), 50)),
    ),
    command(
      "keys",
      act(() => {
        over.value = "keys";
      }),
    ),
    command(
      "devices",
      act(() => route("/")),
    ),
  ];
}
