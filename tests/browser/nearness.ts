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

/** The scene alone, once it looks the same twice: tiles come while one looks. */
async function picture({ page }: Person): Promise<Buffer> {
  const style = '.bay-labels, .bay-bar, .bay-hint, .toggles, .near-legend { visibility: hidden }';
  let last = await page.locator('.bay-canvas').screenshot({ style });
  for (let again = 0; again < 100; again++) {
    const now = await page.locator('.bay-canvas').screenshot({ style });
    if (now.equals(last)) return now;
    last = now;
  }
  throw new Error('the scene never looks the same twice');
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
  const node = page.locator('[data-path^="runners.r2.nodes."][data-path$=".z"]').nth(2);
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
  await page.locator('.near-legend summary').click();
  await phone.shot('74-near-legend');
}

/** The scan coloured by how near the header is, following an edit. */
export async function walkNearness(browser: Browser, server: DemoServer): Promise<Tally> {
  const designer = await sitDown(browser, 'designer-near');
  const phone = await sitDown(browser, 'phone-near', { width: 390, height: 844 });
  const sent = listen(designer.page);
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
