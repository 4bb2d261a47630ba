import { passwordLimit } from '../../shared/protocol/http.ts';

/** NIST SP 800-63B-4 for a password that is the only factor: length and a blocklist, no composition rules. */
export const passwordMinimum = 15;

/** Fewer different characters than this is one key held down or a short pattern repeated. */
const DIFFERENT = 5;

/** Left after everything guessable is taken out; less of both is a password made of guessable parts and a year or two. */
const LETTERS_LEFT = 4;
const DIGITS_LEFT = 10;

/** Words an attacker tries first: the most used passwords' stems, keyboard rows, this product and this trade. */
const words = [
  ...['password', 'passwort', 'passphrase', 'letmein', 'welcome', 'iloveyou', 'administrator', 'admin', 'secret'],
  ...['monkey', 'dragon', 'football', 'baseball', 'sunshine', 'princess', 'superman', 'batman', 'master', 'login'],
  ...['qwertyuiop', 'asdfghjkl', 'zxcvbnm', 'qwertzuiop', 'azertyuiop', 'qwerty', 'qwertz', 'azerty', 'asdf', 'qazwsx'],
  ...['slipjoint', 'turbocharger', 'turbo', 'header', 'exhaust', 'manifold', 'collector', 'runner', 'flange', 'gasket'],
  ...[
    'welder',
    'weld',
    'racing',
    'race',
    'shop',
    'garage',
    'changeme',
    'default',
    'trustno',
    'abcdefghijklmnopqrstuvwxyz',
  ],
];

/** What is wrong with the password, in a sentence for the person who chose it; undefined if it will do. */
export function passwordProblem(password: string, own: readonly string[]): string | undefined {
  const characters = [...password.normalize('NFC')];
  if (characters.length < passwordMinimum) {
    return `it has ${characters.length} characters; use at least ${passwordMinimum}, for instance four words that do not belong together`;
  }
  if (characters.length > passwordLimit) return `it has more than ${passwordLimit} characters`;
  if (new Set(characters).size < DIFFERENT) return 'it repeats the same few characters';
  if (isSequence(characters)) return 'its characters follow one another in order';
  const left = withoutWords(password, own);
  if (count(left, /\p{L}/gu) < LETTERS_LEFT && count(left, /\p{N}/gu) < DIGITS_LEFT) {
    return 'it is made of words everybody tries first or of your own name';
  }
  return undefined;
}

function withoutWords(password: string, own: readonly string[]): string {
  const guessable = [...own.flatMap((text) => text.split(/[^\p{L}\p{N}]+/u)), ...words]
    .map((word) => word.normalize('NFC').toLowerCase())
    .filter((word) => word.length >= 3)
    // Longest first: "turbocharger" must not leave "charger" behind.
    .sort((a, b) => b.length - a.length);
  const plain = password
    .normalize('NFC')
    .toLowerCase()
    .replaceAll(/[^\p{L}\p{N}]/gu, '');
  return guessable.reduce((text, word) => text.replaceAll(word, ' '), plain);
}

function count(text: string, what: RegExp): number {
  return text.match(what)?.length ?? 0;
}

/** Rising or falling by one all the way, as in 0123456789... or abcdef..., wrapping at 9. */
function isSequence(characters: readonly string[]): boolean {
  const codes = characters.map((character) => character.codePointAt(0) ?? 0);
  const steps = codes.slice(1).map((code, index) => code - (codes[index] ?? 0));
  return [1, -1].some((step) => steps.every((one) => one === step || one === -9 * step));
}
