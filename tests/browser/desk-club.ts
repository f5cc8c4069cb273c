/** The small club with a newcomer who has played five games, a member who has not played for a year, and a card signed to its end. */
import type { Draft, PlayerId } from "@sward/core";
import { cardToSign } from "@sward/core";
import { until } from "../support/meeting.ts";
import type { SmallClub } from "../support/small-club.ts";
import { before, player } from "../support/small-club.ts";

export const [ivy, olga] = [player("ivy"), player("olga")];

/** After `startScene`, before any browser is opened. */
export async function withNewcomers({ root, today }: SmallClub): Promise<void> {
  const say = async (...drafts: Draft[]): Promise<void> => {
    const saved = await root.append(drafts);
    if (!saved.ok) throw new Error(JSON.stringify(saved.fault));
  };
  const joins = (who: PlayerId, handicap: number, days: number, reason: string): Promise<void> =>
    say(
      { kind: "player-joined", body: { player: who, standing: "member" } },
      { kind: "handicap-set", body: { player: who, handicap, from: before(today, days), basis: "initial", reason } },
    );
  await joins(ivy, 11, 60, "three-rounds test: 22 + 21 + 21 = 64 strokes");
  await joins(olga, 9, 395, "carried over from last season's card");
  const games: [number, number][] = [
    [7, 3],
    [7, 5],
    [4, 7],
    [7, 2],
    [7, 6],
  ];
  for (const [place, score] of games.entries()) {
    const sides = [[{ player: ivy, off: 11 }], [{ player: player("moss"), off: 12 }]] as const;
    const seats: [{ player: PlayerId; off: number }[], { player: PlayerId; off: number }[]] = [
      [...sides[0]],
      [...sides[1]],
    ];
    await say({
      kind: "match-reported",
      body: {
        date: before(today, 30 - place),
        occasion: "club-competition",
        n: 1,
        play: "handicap",
        format: 13,
        sides: seats,
        games: [{ score }],
      },
    });
  }
  // One card that nobody needs to look at soon.
  const signed = cardToSign(root.state().cards.get(player("hal"))!, today);
  if (signed !== null) await say({ kind: "card-signed", body: { player: player("hal"), ...signed } });
  await root.roster.write(
    new Map([
      [ivy, { name: "Ivy Marsden", short: "Ivy M." }],
      [olga, { name: "Olga Penhale", short: "Olga P." }],
    ]),
  );
  await until("the relay has the newcomers", () => root.waiting() === 0);
}
