"""The demo clubs' handicap cards, worked out a second time.

This file shares nothing with the program: not its language, not its tables, not its code. It reads the files of demo-clubs and
works out every member's card from the published rules alone, so that the cards kept in demo-clubs/expected are a check on the
program and not an echo of it. It is written to be read beside the rules. Rejected: keeping what the program itself printed (a
defect would be kept with it), and working the cards out in the tests on every run (nobody could see or argue with a number).

Run it from the root of the project after editing a file of demo-clubs; Python 3, standard library only:

    python3 tests/demo/independent/cards.py            writes demo-clubs/expected
    python3 tests/demo/independent/cards.py --check    writes nothing; ends with 1 when a file there would differ

The rules, and where they were read:

[table]   Croquet England, The Automatic Handicap System for Golf Croquet, Table 1
          https://www.croquet.org.uk/?p=games/golf/handicapping/automatic
[counts]  the same page in its later layout, Qualifying Games
          https://croquet.org.uk/?p=games%2Fgolf%2Fhandicapping%2Fautomatic
[when]    Croquet England, Maintaining a GC Handicap
          https://croquet.org.uk/?p=games%2Fgolf%2Fhandicapping%2Fmaintenance
[nsw]     Newcastle Park club (Croquet NSW), GC Handicaps
          https://www.revolutionise.com.au/newcastlepark/gc-handicaps
Level play: common practice, no source for the scale of 500; the ends of 1 and 19 are those of Scotland's table.
"""

import base64
import csv
import datetime
import hashlib
import io
import json
import pathlib
import sys

# [table] The index at which each handicap is reached. 13, 15, 17 and 19 do not exist.
TRIGGERS = {
    -6: 2800, -5: 2650, -4: 2500, -3: 2350, -2: 2200, -1: 2100, 0: 2000, 1: 1900, 2: 1800, 3: 1700, 4: 1600, 5: 1500,
    6: 1400, 7: 1350, 8: 1300, 9: 1250, 10: 1200, 11: 1150, 12: 1100, 14: 1050, 16: 1000, 18: 950, 20: 900,
}  # fmt: skip

# "window": a change waits for the end of the day, or of a calendar event, or of any event of at most four days [when].
# "game": a change is made at once [nsw].
RULES = {
    "england-2016": {"change": "window", "handicap-doubles": 0, "why-doubles": "doubles-do-not-count"},
    "new-south-wales-2022": {"change": "game", "handicap-doubles": 5, "why-doubles": "table-not-readable"},
}
SHORT_EVENT_DAYS = 4

# [counts] New South Wales's own list could not be read; the same is used there, except for doubles.
COUNTING = {"calendar-event", "league", "inter-club", "inter-club-friendly", "club-competition"}


# ---- reading -------------------------------------------------------------------------------------------------------------


def read_csv(path):
    """Rows of a CSV file as dictionaries; no rows when there is no such file."""
    if not path.exists():
        return []
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def read_world(root):
    """Every file as it stands: {"clubs": {slug: {...}}, "leagues": {slug: {...}}}."""
    world = {"clubs": {}, "leagues": {}}
    for folder in sorted((root / "clubs").iterdir()):
        club = json.loads((folder / "club.json").read_text(encoding="utf-8"))
        for name in ("members", "events", "games", "handicaps", "signatures"):
            club[name] = read_csv(folder / f"{name}.csv")
        world["clubs"][folder.name] = club
    for folder in sorted((root / "leagues").iterdir()):
        league = json.loads((folder / "league.json").read_text(encoding="utf-8"))
        for name in ("fixtures", "reports", "statements"):
            league[name] = read_csv(folder / f"{name}.csv")
        world["leagues"][folder.name] = league
    return world


def public_id(what, key):
    """The id an invented person, event or fixture has in the program: it decides order inside a day, nothing else."""
    digest = hashlib.sha256(f"sward demo {what} {key}".encode()).digest()[:16]
    return base64.urlsafe_b64encode(digest).decode().rstrip("=")


def parse_side(text):
    """"ada-w 7 + dev-m 2" -> [("ada-w", 7), ("dev-m", 2)], partners in the order of their ids."""
    side = []
    for part in text.split(" + "):
        player, off = part.split(" ")
        side.append((player, int(off)))
    return sorted(side, key=lambda one: public_id("player", one[0]))


def parse_games(scores, ended):
    """"7-4 5-7" -> [(7, 4, ""), (5, 7, "")]; `ended` belongs to the last of them."""
    games = [tuple(int(points) for points in score.split("-")) for score in scores.split(" ")]
    return [(a, b, ended if place == len(games) else "") for place, (a, b) in enumerate(games, 1)]


def side_name(side):
    return "+".join(public_id("player", player) for player, _ in side)


def parse_report(row, league=None):
    """One line of games.csv, or of a league's reports.csv, with its sides in a fixed order and its identity."""
    sides = [parse_side(row["side_a"]), parse_side(row["side_b"])]
    games = parse_games(row["scores"], row["ended"])
    if side_name(sides[0]) > side_name(sides[1]):
        sides.reverse()
        games = [(b, a, ended) for a, b, ended in games]
    report = {
        "id": row["id"] if league is None else f"{row['fixture']}/{row['slot']}",
        "ref": row["id"],
        "replaces": row["replaces"],
        "entered_on": row["entered_on"],
        "start": row["start"],
        "event": row.get("event", ""),
        "facts": {
            "date": row["date"],
            "occasion": row["occasion"] if league is None else "league",
            "play": row["play"],
            "format": row["format"],
            "sides": sides,
            "games": games,
            "excluded": row.get("excluded", "") == "yes",
        },
    }
    if league is None:
        names = "v".join(side_name(side) for side in sides)
        report["identity"] = f"{row['date']}|{row['play']}|{row['format']}|{names}|{row['n']}"
    else:
        report["identity"] = f"slot:{public_id('fixture', row['fixture'])}:{row['slot']}"
    return report


# ---- from reports to matches ---------------------------------------------------------------------------------------------


def reports_of(world, slug, known_on="9999-12-31"):
    """What a club's book holds on a day: its own reports, and those of a league's matches in which a member of it played."""
    club = world["clubs"][slug]
    own = {row["key"] for row in club["members"] if row["standing"] == "member"}
    found = [parse_report(row) for row in club["games"]]
    for league in world["leagues"].values():
        for row in league["reports"]:
            report = parse_report(row, league)
            if any(player in own for side in report["facts"]["sides"] for player, _ in side):
                found.append(report)
    return [report for report in found if report["entered_on"] <= known_on]


def settle(reports):
    """Matches that count and, apart, the identities that are held because their reports differ."""
    replaced = {report["replaces"] for report in reports if report["replaces"]}
    by_identity = {}
    for report in reports:
        if report["ref"] not in replaced:
            by_identity.setdefault(report["identity"], []).append(report)
    counted, held = [], []
    for identity, alike in by_identity.items():
        if any(report["facts"] != alike[0]["facts"] for report in alike):
            held.append(identity)
        else:
            counted.append(alike[0])
    return counted, held


# ---- one game ------------------------------------------------------------------------------------------------------------


def level_points(winner_off, loser_off):
    """20 / (1 + 10^(D/500)), to the nearest whole, held within 1..19; D = winner's trigger less the loser's."""
    difference = TRIGGERS[winner_off] - TRIGGERS[loser_off]
    return min(19, max(1, int(20 / (1 + 10 ** (difference / 500)) + 0.5)))


def points_of(facts, own_side, game, rules):
    """(points to the player of `own_side`, why)."""
    a, b, ended = facts["games"][game]
    own, other = (a, b) if own_side == 0 else (b, a)
    doubles = len(facts["sides"][0]) == 2
    if facts["excluded"]:
        return 0, "excluded-beforehand"
    if facts["occasion"] not in COUNTING:
        return 0, "occasion-does-not-count"
    if ended in ("abandoned", "walkover"):
        return 0, ended
    if own == other:
        return 0, "drawn"
    sign = 1 if own > other else -1
    if doubles:
        points = rules["handicap-doubles"] if facts["play"] == "handicap" else 0
        return sign * points, f"{facts['play']}-doubles" if points else rules["why-doubles"]
    if facts["play"] == "handicap":
        return sign * 10, "handicap-singles"
    own_off, other_off = facts["sides"][own_side][0][1], facts["sides"][1 - own_side][0][1]
    points = level_points(own_off, other_off) if sign > 0 else level_points(other_off, own_off)
    return sign * points, "level-singles"


# ---- one card ------------------------------------------------------------------------------------------------------------


def moved_handicap(handicap, index):
    """Hysteresis: down on reaching a lower handicap's trigger, up only on falling to a higher one's; as far as it reaches."""
    lower = [h for h, trigger in TRIGGERS.items() if h < handicap and index >= trigger]
    if lower:
        return min(lower)
    higher = [h for h, trigger in TRIGGERS.items() if h > handicap and index <= trigger]
    return max(higher) if higher else handicap


def window_ends(lines, events):
    """Places in `lines` after which a change of handicap is made: the last line of each day, or of each short event.

    A short event is one span from the player's first game in it to its last day, and whatever else is played in between belongs
    to it; spans with a day in common are one span.
    """
    spans = []
    for line in lines:
        first = last = line["date"]
        event = events.get(line["event"])
        if event is not None and event["first_day"] <= line["date"] <= event["last_day"]:
            days = (datetime.date.fromisoformat(event["last_day"]) - datetime.date.fromisoformat(event["first_day"])).days + 1
            if days <= SHORT_EVENT_DAYS or event["occasion"] == "calendar-event":
                last = max(last, event["last_day"])
        spans.append((first, last))
    ends = []
    for first, last in sorted(spans):
        if ends and first <= ends[-1]:
            ends[-1] = max(ends[-1], last)
        else:
            ends.append(last)
    places = set()
    for end in ends:
        places.add(max(place for place, line in enumerate(lines) if line["date"] <= end))
    return places


def fold_card(player, starts, changes, matches, rules_on, events):
    """The card's lines in order. `starts` and `changes`: settings of the handicap; `matches`: those the player was in."""
    sets = [{"line": "set", "why": why, **row} for why, rows in (("start", starts), ("discretionary", changes)) for row in rows]
    games = []
    for match in matches:
        facts = match["facts"]
        side = 0 if any(name == player for name, _ in facts["sides"][0]) else 1
        for place in range(len(facts["games"])):
            order = (facts["date"], match["start"] or "~", match["identity"], place)
            games.append({"line": "game", "date": facts["date"], "event": match["event"], "match": match,
                          "side": side, "game": place, "order": order})  # fmt: skip
    games.sort(key=lambda line: line["order"])
    ends = {id(games[place]) for place in window_ends(games, events)} if games else set()

    # A setting comes before the games of its day.
    lines = sorted(sets + games, key=lambda line: (line["date"], line["line"] != "set"))
    handicap = index = None
    for line in lines:
        before = handicap
        if line["line"] == "set":
            handicap, index = line["handicap"], line["index"]
            line["moved"] = f"{'' if before is None else before}->{handicap}"
        else:
            rules = RULES[rules_on(line["date"])]
            facts = line["match"]["facts"]
            line["points"], line["why"] = points_of(facts, line["side"], line["game"], rules)
            line["off"] = next(off for name, off in facts["sides"][line["side"]] if name == player)
            line["record"] = handicap
            index += line["points"]
            if rules["change"] == "game" or id(line) in ends:
                handicap = moved_handicap(handicap, index)
            line["moved"] = "" if before == handicap else f"{before}->{handicap}"
        line["handicap"], line["index"] = handicap, index
    return lines


def cards_of(world, slug, known_on="9999-12-31"):
    """{player: lines} of a club's members, from what had been entered by the end of a day."""
    club = world["clubs"][slug]
    events = {row["key"]: row for row in club["events"]}
    matches, _ = settle(reports_of(world, slug, known_on))

    def rules_on(day):
        return max((row for row in club["rules"] if row["from"] <= day), key=lambda row: row["from"])["rules"]

    cards = {}
    for row in club["members"]:
        if row["standing"] != "member" or row["start"] > known_on:
            continue
        handicap = int(row["handicap"])
        index = int(row["index"]) if row["index"] else TRIGGERS[handicap]
        changes = [
            {"date": change["in_force_from"], "handicap": int(change["handicap"]), "index": TRIGGERS[int(change["handicap"])]}
            for change in club["handicaps"]
            if change["player"] == row["key"] and change["entered_on"] <= known_on
        ]
        own = [m for m in matches if any(name == row["key"] for side in m["facts"]["sides"] for name, _ in side)]
        start = {"date": row["start"], "handicap": handicap, "index": index}
        cards[row["key"]] = fold_card(row["key"], [start], changes, own, rules_on, events)
    return cards


# ---- signatures ----------------------------------------------------------------------------------------------------------


def signatures_of(world, slug, cards):
    """What each signature said when it was made, and whether the card up to that day still says so."""
    rows = []
    for row in world["clubs"][slug]["signatures"]:
        then = [line for line in cards_of(world, slug, row["signed_on"])[row["player"]] if line["date"] <= row["upto"]]
        now = [line for line in cards[row["player"]] if line["date"] <= row["upto"]]
        said = [(line["date"], line["handicap"], line["index"]) for line in then]
        says = [(line["date"], line["handicap"], line["index"]) for line in now]
        holds = said == says
        rows.append({**row, "handicap": then[-1]["handicap"], "index": then[-1]["index"], "lines": len(then),
                     "standing": "holds" if holds else "touched"})  # fmt: skip
    return rows


# ---- writing -------------------------------------------------------------------------------------------------------------

CARD_COLUMNS = ["player", "date", "game", "number", "play", "format", "partner", "opponents", "off", "score", "points", "why",
                "index", "handicap", "moved"]  # fmt: skip


def card_rows(player, lines):
    for line in lines:
        row = dict.fromkeys(CARD_COLUMNS, "")
        row.update({name: line[name] for name in ("date", "why", "index", "handicap", "moved")}, player=player)
        if line["line"] == "game":
            match, side = line["match"], line["side"]
            a, b, _ = match["facts"]["games"][line["game"]]
            row.update(
                game=match["id"],
                number=line["game"] + 1,
                play=match["facts"]["play"],
                format=match["facts"]["format"],
                partner=" + ".join(name for name, _ in match["facts"]["sides"][side] if name != player),
                opponents=" + ".join(sorted(name for name, _ in match["facts"]["sides"][1 - side])),
                off=line["off"],
                score=f"{a}-{b}" if side == 0 else f"{b}-{a}",
                points=f"{line['points']:+d}" if line["points"] else "0",
            )
        yield row


def to_csv(columns, rows):
    text = io.StringIO(newline="")
    writer = csv.DictWriter(text, columns, lineterminator="\n", extrasaction="ignore")
    writer.writeheader()
    writer.writerows(rows)
    return text.getvalue()


def expected_files(world):
    """{file name: text} of everything in demo-clubs/expected."""
    files, summary, signatures = {}, [], []
    for slug in world["clubs"]:
        cards = cards_of(world, slug)
        signed = signatures_of(world, slug, cards)
        files[f"{slug}.csv"] = to_csv(CARD_COLUMNS, [row for player in cards for row in card_rows(player, cards[player])])
        signatures += [{"club": slug, **row} for row in signed]
        for player, lines in cards.items():
            games = [line for line in lines if line["line"] == "game"]
            covered = max((row["upto"] for row in signed if row["player"] == player and row["standing"] == "holds"), default="")
            summary.append({
                "club": slug,
                "player": player,
                "handicap": lines[-1]["handicap"],
                "index": lines[-1]["index"],
                "games": len(games),
                "moved_index": sum(line["points"] != 0 for line in games),
                "unsigned_moves": sum(line["moved"] != "" and line["date"] > covered for line in games),
            })  # fmt: skip
    files["summary.csv"] = to_csv(list(summary[0]), summary)
    files["signatures.csv"] = to_csv(
        ["club", "player", "upto", "signed_on", "handicap", "index", "lines", "standing"], signatures
    )
    return files


def main(arguments):
    root = pathlib.Path(__file__).resolve().parents[3] / "demo-clubs"
    differ = 0
    for name, text in expected_files(read_world(root)).items():
        path = root / "expected" / name
        if arguments == ["--check"]:
            same = path.exists() and path.read_bytes() == text.encode()
            differ += not same
            print(f"{'same' if same else 'DIFFERS'}  {name}")
        else:
            path.parent.mkdir(exist_ok=True)
            path.write_bytes(text.encode())
    return 1 if differ else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
