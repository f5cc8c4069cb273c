/** What people read when a device takes a new key, on that device and on the handicapper's. */
export const newKeyWords = {
  title: "This device takes a new key",
  why: {
    "used-elsewhere":
      "Something arrived that was signed with this device's key and was not written here: the key is in use in another place as well, such as another browser, a restored copy, or somebody else's hands.",
    forked:
      "Two different entries signed with this device's key stand in one place, so the key is in use in another place as well, such as another browser, a restored copy, or somebody else's hands.",
  },
  stays:
    "With the old key nothing more is saved here. What you saved before is kept, here and at the relay. What was entered twice, or after the two parted, a handicapper looks through and adopts.",
  todo: "This device has made itself a new key and asks for it to be admitted. Show the handicapper this code: under Sharing, the handicapper's device shows the same one.",
  keepOpen: "Keep the app open. It goes on by itself, under the new key, once it is admitted.",
  sent: "The ask lies at the relay.",
  notSent: "The relay is not reached. With a signal the ask goes by itself.",
  noOther:
    "If no handicapper's device is left to admit it, the club's words do: open “Recover a club with its words” at the front page.",
  noNetwork: "Without a network, have the handicapper invite this browser as a new device, by file or code.",
  notKept: "The new key could not be kept on this device",
  done: "This device has its new key, and writes with it from now on.",

  host: {
    title: "Devices that ask for a new key",
    lead: "Their old key is in use in two places. Compare the code with the device's own screen, talk to its person, and admit the new key.",
    asks: (label: string, whose: string) => `“${label}” of ${whose} asks for a new key`,
    afterwards:
      "Afterwards bar the old key, at the last entry that was its person's own: whoever else has it can write until then.",
    admit: "Admit the new key…",
    later: "Not now",
    laterHint: "The device goes on asking. It comes up again when this page is loaded anew.",
  },
} as const;
