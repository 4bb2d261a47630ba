import assert from 'node:assert/strict';
import type { Browser, Page } from 'playwright-core';
import { askedNearnessSchema } from '../../shared/protocol/nearness.ts';
import { field, keepState, type Person, reveal, signIn, sitDown, type } from './person.ts';
import { runSteps, type Tally } from './scenario.ts';
import type { DemoServer } from './server.ts';

/** What the server sent of it: bytes of levels, and the last name given. */
interface Sent {
  bytes: number;
  name: string;
}

function listen(page: Page): Sent {
  const sent: Sent = { bytes: 0, name: '' };
  page.on('response', async (response) => {
    if (!response.ok() || !response.url().includes('/nearness')) return;
    if (/\/\d+-\d+$/.test(response.url())) sent.bytes += Number(response.headers()['content-length'] ?? 0);
    else {
      const answer = askedNearnessSchema.safeParse(await response.json().catch(() => null));
      if (answer.success && answer.data.state === 'there') sent.name = answer.data.name;
    }
  });
  return sent;
}

const button = ({ page }: Person) => page.getByRole('button', { name: 'Show how near' });

/** Tiles and levels on their way to each page, and how many ever were. */
const onTheWay = new WeakMap<Page, { now: number; ever: number }>();

function count(page: Page): void {
  const counts = { now: 0, ever: 0 };
  onTheWay.set(page, counts);
  const counted = (url: string): boolean => /\/(tiles|nearness)\b/.test(url);
  page.on('request', (request) => {
    if (!counted(request.url())) return;
    counts.now++;
    counts.ever++;
  });
  for (const end of ['requestfinished', 'requestfailed'] as const)
    page.on(end as 'requestfinished', (request) => {
      if (counted(request.url())) counts.now--;
    });
}

/** Shows or hides what lies over the scene. */
const overScene = (page: Page, visibility: 'hidden' | ''): Promise<void> =>
  page.locator('.bay > :not(canvas)').evaluateAll((elements, value) => {
    for (const element of elements) if (element instanceof HTMLElement) element.style.visibility = value;
  }, visibility);

/** The scene alone, once it looks the same three times with nothing on its way: tiles come while one looks. */
async function picture(person: Person): Promise<Buffer> {
  await overScene(person.page, 'hidden');
  const seen = await rested(person);
  await overScene(person.page, '');
  return seen;
}

async function rested({ page }: Person): Promise<Buffer> {
  const clip = await page.locator('.bay-canvas').boundingBox();
  const counts = onTheWay.get(page);
  assert.ok(clip && counts);
  let [last, ever, same]: [Buffer, number, number] = [Buffer.alloc(0), -1, 0];
  for (let again = 0; again < 60; again++) {
    const now: Buffer = await page.screenshot({ clip });
    const still = counts.now === 0 && counts.ever === ever && now.equals(last);
    same = still ? same + 1 : 0;
    if (same === 2) return now;
    [last, ever] = [now, counts.ever];
  }
  throw new Error(`the scene never rests: ${counts.now} of ${counts.ever} on their way`);
}

/** Resolves when the colours are those of the header as it is and nothing more comes. */
async function shown(person: Person): Promise<Buffer> {
  await person.page.locator('[data-nearness=there]').waitFor();
  return picture(person);
}

async function switchedOn(designer: Person, sent: Sent): Promise<void> {
  const { page } = designer;
  const legend = page.locator('.near-legend');
  await button(designer).click();
  await shown(designer);
  await designer.shot('70-near');
  assert.equal(await button(designer).getAttribute('aria-pressed'), 'true');
  assert.ok(sent.bytes > 1000, `${sent.bytes} bytes of levels came`);
  assert.match(await legend.innerText(), /under 5\.00 mm[\s\S]*40\.00? mm to 60\.00? mm/);
  assert.equal(await page.locator('.near-legend .problem').count(), 0);
  // Twice each: by now all the tiles are there.
  const first = sent.bytes;
  const pictures: Buffer[] = [];
  for (const on of [false, true, false, true]) {
    await button(designer).click();
    if (!on) await legend.waitFor({ state: 'detached' });
    pictures.push(on ? await shown(designer) : await picture(designer));
  }
  const [plain, coloured, plainAgain, colouredAgain] = pictures;
  assert.ok(plain && coloured && plainAgain && colouredAgain);
  assert.ok(!plain.equals(coloured), 'the scene looks the same with and without');
  assert.ok(plain.equals(plainAgain), 'the ordinary colours did not come back');
  assert.ok(coloured.equals(colouredAgain), 'the scene is coloured otherwise than before');
  assert.equal(sent.bytes, first, 'what is here was sent again');
}

async function edited(designer: Person, sent: Sent): Promise<void> {
  const { page } = designer;
  const before = await shown(designer);
  const [first, name] = [sent.bytes, sent.name];
  const node = page.locator('[data-path^="runners.r1.nodes."][data-path$=".z"]').nth(2);
  await reveal(node);
  const path = (await node.getAttribute('data-path')) ?? '';
  const was = Number(await node.inputValue());
  await type(page, path, `${was + 10}`);
  await keepState(page, 'checked');
  await page.waitForResponse((r) => r.url().includes('/nearness?') && r.status() === 200);
  const moved = await shown(designer);
  await designer.shot('71-near-moved');
  assert.notEqual(sent.name, name);
  assert.ok(!before.equals(moved), 'the scene looks as before the edit');
  const again = sent.bytes - first;
  assert.ok(again > 0 && again < first, `${again} bytes again after ${first}`);
  console.log(`      ${first} bytes of levels at first, ${again} after a node was moved`);
}

/** A runner that is none for now is named, and what it leaves is still told. */
async function broken(designer: Person): Promise<void> {
  const { page } = designer;
  const radius = page.locator('[data-path^="runners.r2.nodes."][data-path$=".radius"]').nth(1);
  await reveal(radius);
  const path = (await radius.getAttribute('data-path')) ?? '';
  const was = await radius.inputValue();
  await type(page, path, '400');
  await page
    .locator('.near-legend .problem')
    .getByText(/is not in it: /)
    .waitFor();
  await designer.shot('72-near-without');
  await type(page, path, was);
  await page.locator('.near-legend .problem').waitFor({ state: 'detached' });
  assert.equal(await field(page, path).inputValue(), was);
}

async function onPhone(phone: Person, server: DemoServer): Promise<void> {
  const { page } = phone;
  await signIn(phone, server, 'lead');
  await page.locator('.areas').getByRole('button', { name: 'Bay' }).click();
  await button(phone).click();
  await shown(phone);
  const overflow = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
  assert.ok(overflow <= 0, `${overflow} px wider than the screen`);
  await phone.shot('73-near');
  await page.locator('.near-legend > summary').click();
  await phone.shot('74-near-legend');
}

/** The scan coloured by how near the header is, following an edit. */
export async function walkNearness(browser: Browser, server: DemoServer): Promise<Tally> {
  const designer = await sitDown(browser, 'designer-near');
  const phone = await sitDown(browser, 'phone-near', { width: 390, height: 844 });
  const sent = listen(designer.page);
  for (const { page } of [designer, phone]) count(page);
  const steps = [
    { name: 'designer signs in', run: () => signIn(designer, server, 'designer') },
    { name: 'how near is shown over the scan, and put away again', run: () => switchedOn(designer, sent) },
    { name: 'after an edit only what changed is sent again', run: () => edited(designer, sent) },
    { name: 'a runner that does not bend so is named', run: () => broken(designer) },
    { name: 'on a phone the colours come and the legend unfolds', run: () => onPhone(phone, server) },
    {
      name: 'no page complained',
      run: async () => assert.deepEqual([...designer.complaints, ...phone.complaints], []),
    },
  ];
  return runSteps('nearness', steps, async () => {
    await designer.shot('failed-near');
    await phone.shot('failed-near');
  });
}
