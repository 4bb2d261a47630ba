/** Strings and marks of a JSON text; numbers and words between them do not matter here. */
const TOKEN = /"(?:[^"\\]|\\.)*"|[{}[\],:]/g;

interface Level {
  /** Names seen in this object; null in a list. */
  readonly names: Set<string> | null;
  /** Where the member being read hangs below the level above. */
  readonly from: string;
  /** The name last read, while its value is. */
  name: string;
  /** A string that comes now is a name. */
  atName: boolean;
}

const nameOf = (token: string): string => {
  const name: unknown = JSON.parse(token);
  return String(name);
};

/**
 * Paths (`tube.wall`) at which a JSON text gives a name a second time in one object. JSON.parse keeps the last and drops the others
 * without a word, so whoever must not lose anything asks here first. The text has to be valid JSON.
 */
export function repeatedKeys(text: string): readonly string[] {
  const out: string[] = [];
  const levels: Level[] = [];
  for (const [token] of text.matchAll(TOKEN)) {
    const level = levels.at(-1);
    if (token === '{' || token === '[') {
      const names = token === '{' ? new Set<string>() : null;
      levels.push({ names, from: level?.name ?? '', name: '', atName: names !== null });
    } else if (token === '}' || token === ']') levels.pop();
    else if (!level) continue;
    else if (token === ',') level.atName = level.names !== null;
    else if (token === ':') level.atName = false;
    else if (level.atName && level.names) {
      level.name = nameOf(token);
      if (level.names.has(level.name)) out.push([...levels.slice(1).map((l) => l.from), level.name].join('.'));
      level.names.add(level.name);
    }
  }
  return out;
}
