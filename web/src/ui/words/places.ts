/** The places of the app and their names, the same on every screen. */

export const PLACES = [
  { key: "queue", word: "Queue", href: "/" },
  { key: "lifts", word: "Lifts", href: "/lifts" },
  { key: "loose-ends", word: "Loose ends", href: "/loose-ends" },
  { key: "plan", word: "Plan", href: "/plan" },
  { key: "shed", word: "Shed", href: "/shed" },
] as const;

export const SHED = [
  { key: "crew", word: "Crew", href: "/crew", second: "Who is here, invites, my limit, my PIN" },
  {
    key: "stores",
    word: "Bags and tools",
    href: "/stores",
    second: "Tool store, torque wrenches, parts, bags",
  },
  { key: "scan", word: "Scan a label", href: "/scan", second: "Which bag, which task is this?" },
  { key: "bench", word: "Bench", href: "/bench", second: "Sums of the trade, in any unit" },
  { key: "record", word: "Record", href: "/record", second: "Every entry, and whether the chain holds" },
  { key: "settings", word: "Build settings", href: "/settings", second: "Plan file, options, units" },
  { key: "this-phone", word: "This phone", href: "/this-phone", second: "Dark or light, sound, left hand" },
  { key: "here", word: "Still on this phone", href: "/here", second: "What has not been sent" },
  { key: "emergency", word: "Emergency card", href: "/emergency", second: "Address to read out, who is in" },
] as const;
