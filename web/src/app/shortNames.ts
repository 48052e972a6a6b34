/** Each by first name; where two share it, with the first letter of the last name; where that is the same too, whole. */

const plain = (name: string): string => name.normalize("NFKC").toLowerCase().split(/\s+/).join(" ");

/** The same as the service says it, by the cases of `tests/cases/short_names.json`. */
export function shortNames(names: ReadonlyMap<string, string>): Map<string, string> {
  const firsts = new Map<string, number>();
  const letters = new Map<string, number>();
  const count = (of: Map<string, number>, name: string) => of.set(name, (of.get(name) ?? 0) + 1);
  const ways = [...names].map(([id, name]) => {
    const words = name.trim().split(/\s+/);
    const first = words[0] ?? "";
    const letter = words.length > 1 ? `${first} ${[...(words.at(-1) ?? "")][0] ?? ""}.` : first;
    count(firsts, plain(first));
    count(letters, plain(letter));
    return { id, name, first, letter };
  });
  const chosen = ({ name, first, letter }: (typeof ways)[number]): string =>
    firsts.get(plain(first)) === 1 ? first : letters.get(plain(letter)) === 1 ? letter : name;
  return new Map(ways.map((one) => [one.id, chosen(one)]));
}
