import { existsSync } from 'node:fs';
import { delimiter, join } from 'node:path';

const names = ['chromium', 'chromium-browser', 'google-chrome', 'chrome', 'chrome.exe', 'msedge.exe'];
const bundles = [
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
  'C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe',
];

/** The program browser tests drive: CHROMIUM if set, else the first found; undefined when there is none. */
export function browserPath() {
  const given = process.env.CHROMIUM;
  if (given) return existsSync(given) ? given : undefined;
  const folders = (process.env.PATH ?? '').split(delimiter).filter(Boolean);
  return [...folders.flatMap((folder) => names.map((name) => join(folder, name))), ...bundles].find((path) =>
    existsSync(path),
  );
}
