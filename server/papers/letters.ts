/** Signs that turn the direction of what follows, or print nothing: on paper they could only mislead. */
const UNSEEN = /[\p{Cc}\p{Cf}\p{Zl}\p{Zp}]/gu;

/** What stands for a sign the fonts lack, where that is plain. */
const stands: Readonly<Record<string, string>> = { '−': '-', '‐': '-', '‑': '-', '✓': 'x', '\u00a0': ' ' };

/**
 * Text as the fonts can print it. A sign they lack loses its accent when that helps (`ő` as `o`), else its Unicode number stands in braces:
 * two names that differ in the app differ on paper too, whatever they are written in. `has` tells of a code point whether there is a glyph.
 */
export function printable(text: string, has: (codePoint: number) => boolean): string {
  const seen = text
    .normalize('NFC')
    .replace(/[\t\r\n]+/g, ' ')
    .replace(UNSEEN, '');
  let out = '';
  let lacking: string[] = [];
  const flush = (): void => {
    if (lacking.length > 0) out += `{${lacking.join(' ')}}`;
    lacking = [];
  };
  for (const sign of seen) {
    const shown = shownAs(sign, has);
    if (shown === null) lacking.push((sign.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, '0'));
    else {
      flush();
      out += shown;
    }
  }
  flush();
  return out;
}

function shownAs(sign: string, has: (codePoint: number) => boolean): string | null {
  const all = (text: string): boolean => text !== '' && [...text].every((s) => has(s.codePointAt(0) ?? 0));
  if (all(sign)) return sign;
  const plain = stands[sign] ?? sign.normalize('NFKD').replace(/\p{M}/gu, '');
  return all(plain) ? plain : null;
}

/** Breaks text into lines no wider than `width`; a word that is too long by itself is broken where it reaches the edge. */
export function linesOf(text: string, width: number, widthOf: (text: string) => number): readonly string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(' ').filter((w) => w !== '')) {
    const longer = line === '' ? word : `${line} ${word}`;
    if (widthOf(longer) <= width) {
      line = longer;
      continue;
    }
    if (line !== '') lines.push(line);
    const parts = broken(word, width, widthOf);
    lines.push(...parts.slice(0, -1));
    line = parts.at(-1) ?? '';
  }
  if (line !== '' || lines.length === 0) lines.push(line);
  return lines;
}

function broken(word: string, width: number, widthOf: (text: string) => number): readonly string[] {
  if (widthOf(word) <= width) return [word];
  const parts: string[] = [];
  let part = '';
  for (const sign of word) {
    if (part !== '' && widthOf(part + sign) > width) {
      parts.push(part);
      part = '';
    }
    part += sign;
  }
  return [...parts, part];
}
