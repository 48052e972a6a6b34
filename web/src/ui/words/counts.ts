/** "1 bolt", "2 bolts". */
export function some(count: number, one: string, more = `${one}s`): string {
  return `${count} ${count === 1 ? one : more}`;
}
