/** Somebody who can be named in a remark. */
export interface Namable {
  readonly id: string;
  readonly login: string;
  readonly name: string;
}

/** Letters and digits before an @ make it part of a word, such as a mail address. */
const WORD = /[\p{L}\p{N}_]/u;

function namedAt(text: string, at: number, name: string): boolean {
  if (name === '' || !text.startsWith(name, at)) return false;
  const after = text.slice(at + name.length);
  // A full stop ends the sentence, but is part of a login when it goes on.
  return !WORD.test(after.charAt(0)) && !/^[.-][\p{L}\p{N}_]/u.test(after) && !after.startsWith('@');
}

/** The people whom a remark names by `@` and their login or name, whatever the case; the longest name that fits counts. Pure. */
export function mentioned<T extends Namable>(text: string, people: readonly T[]): readonly T[] {
  const plain = text.normalize('NFC').toLowerCase();
  const found = new Set<T>();
  for (let at = plain.indexOf('@'); at >= 0; at = plain.indexOf('@', at + 1)) {
    if (at > 0 && WORD.test(plain.charAt(at - 1))) continue;
    const fitting = people.flatMap((person) =>
      [person.login, person.name]
        .map((name) => name.normalize('NFC').toLowerCase())
        .filter((name) => namedAt(plain, at + 1, name))
        .map((name) => ({ person, length: name.length })),
    );
    const longest = Math.max(0, ...fitting.map(({ length }) => length));
    for (const { person, length } of fitting) if (length === longest) found.add(person);
  }
  return [...found];
}
