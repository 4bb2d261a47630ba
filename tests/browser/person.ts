import assert from 'node:assert/strict';
import { mkdirSync } from 'node:fs';
import { type Browser, type BrowserContext, chromium, type Locator, type Page } from 'playwright-core';
import type { DemoServer } from './server.ts';

const ARTEFACTS = new URL('../artefacts/', import.meta.url).pathname;
const TIMEOUT = 20_000;

/** One person at one screen. */
export interface Person {
  readonly name: string;
  readonly page: Page;
  readonly context: BrowserContext;
  /** What the page complained about on its console. */
  readonly complaints: string[];
  shot(label: string): Promise<void>;
}

/** Debian's Chromium with drawing in software; throws with what to install when it is missing. */
export async function launch(): Promise<Browser> {
  return chromium.launch({
    executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
    args: [
      '--no-sandbox',
      '--no-first-run',
      '--disable-quic',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
      '--use-gl=angle',
      '--use-angle=swiftshader',
      '--enable-unsafe-swiftshader',
    ],
  });
}

/** Opens a browser context of its own: other cookies, other storage. */
export async function sitDown(
  browser: Browser,
  name: string,
  viewport = { width: 1440, height: 900 },
): Promise<Person> {
  mkdirSync(ARTEFACTS, { recursive: true });
  const context = await browser.newContext({ viewport, hasTouch: viewport.width < 600 });
  const page = await context.newPage();
  page.setDefaultTimeout(TIMEOUT);
  const complaints: string[] = [];
  page.on('pageerror', (error) => complaints.push(`error: ${error.message}`));
  page.on('console', (message) => {
    // A refused request is logged by the browser itself; the app's own answer to it is what the tests look at.
    if (
      message.type() === 'error' &&
      !/Failed to load resource|WebSocket connection|ERR_INTERNET_DISCONNECTED/.test(message.text())
    )
      complaints.push(message.text());
  });
  return {
    name,
    page,
    context,
    complaints,
    shot: async (label) => void (await page.screenshot({ path: `${ARTEFACTS}${label}-${name}.png` })),
  };
}

/** Signs in with a demo account and waits for the job with its verdicts. */
export async function signIn(person: Person, server: DemoServer, login: string): Promise<void> {
  const { page } = person;
  await page.goto(server.job);
  await page.fill('input[name=login]', login);
  await page.fill('input[name=password]', server.password(login));
  await page.click('button[type=submit]');
  await jobReady(page);
}

/** Resolves when the job shows verdicts and nothing is being checked. */
export async function jobReady(page: Page): Promise<void> {
  await page.waitForSelector('.job [data-verdict]', { state: 'attached', timeout: 3 * TIMEOUT });
  // A new demo is measured from nothing: on a machine with other work that takes a while.
  const measured = () => document.querySelector('[data-count=pending]')?.textContent?.trim().startsWith('0');
  await page.waitForFunction(measured, undefined, { timeout: 3 * TIMEOUT });
}

/** A spec field by its path. */
export function field(page: Page, path: string): Locator {
  return page.locator(`[data-path="${path}"]`);
}

/** Opens the section or element a field is in, types into it and leaves it. */
export async function type(page: Page, path: string, text: string): Promise<void> {
  const input = field(page, path);
  await reveal(input);
  await input.fill(text);
  await input.press('Enter');
}

/** Opens every closed fold around an element. */
export async function reveal(target: Locator): Promise<void> {
  await target.first().evaluate((element) => {
    for (let at = element.parentElement; at; at = at.parentElement)
      if (at instanceof HTMLDetailsElement) at.open = true;
  });
}

/** Waits until a verdict has a status and the server has judged it. */
export async function verdict(page: Page, key: string, status: string): Promise<void> {
  const all = page.getByLabel('Show what is clear, too');
  if (!(await all.isChecked())) await all.check();
  await page.waitForSelector(`[data-verdict="${key}"][data-status="${status}"]:not(.provisional)`, {
    state: 'attached',
  });
}

/** Opens the dialog for files, puts one in and says what it is where the dialog asks. */
export async function bring(page: Page, file: string, use: 'scan' | 'part'): Promise<Locator> {
  await page.getByRole('button', { name: 'Bring a scan or part' }).click();
  const dialog = page.getByRole('dialog');
  await dialog.locator('input[type=file]').setInputFiles(file);
  if (/\.(ply|stl)$/.test(file)) {
    // What can be either is not sent before the person has said which.
    await dialog.getByRole('radio').first().waitFor();
    assert.equal(await dialog.getByRole('button', { name: 'Send' }).count(), 0);
    await dialog.getByLabel(use === 'scan' ? 'a scan of the bay' : 'a part that is made or bought').check();
  }
  return dialog;
}

/** Does what stands behind the plate's last button. */
export async function more(page: Page, act: string): Promise<void> {
  await page.getByRole('button', { name: 'More', exact: true }).click();
  await page.locator('.more:popover-open').getByRole('button', { name: act, exact: true }).click();
}

/** Waits for the keep chip. */
export async function keepState(page: Page, state: string): Promise<void> {
  await page.waitForSelector(`[data-keep="${state}"]`);
}
