import assert from 'node:assert/strict';
import type { Browser } from 'playwright-core';
import { emptyFile, lyingPly, metresPly } from './files.ts';
import { bring, field, type Person, reveal, signIn, sitDown, type } from './person.ts';
import { runSteps, type Tally } from './scenario.ts';
import type { DemoServer } from './server.ts';

async function problemAt({ page }: Person, path: string): Promise<string> {
  const note = page.locator(`.field:has([data-path="${path}"]) .field-problem`);
  await note.waitFor();
  return note.innerText();
}

async function refusedText(person: Person): Promise<void> {
  await type(person.page, 'tube.wall', '2 furlongs');
  assert.match(await problemAt(person, 'tube.wall'), /expected a length in .*got "furlongs"/);
  await type(person.page, 'tube.wall', '90 mm');
  assert.match(await problemAt(person, 'tube.wall'), /expected 0\.50 mm to 8\.00 mm, got 90\.00 mm/);
  await type(person.page, 'tube.wall', '1e999');
  assert.match(await problemAt(person, 'tube.wall'), /expected a finite/);
  await person.shot('20-bad-text');
  await field(person.page, 'tube.wall').press('Escape');
  assert.equal(await field(person.page, 'tube.wall').inputValue(), '2.00');
}

async function bendThatDoesNotFit(person: Person): Promise<void> {
  await type(person.page, 'runners.r3.nodes.n2.radius', '900 mm');
  const text = await problemAt(person, 'runners.r3.nodes.n2.radius');
  assert.match(text, /the bend needs .* mm of straight beside it, only .* mm is there/);
  await person.shot('21-bend');
  await person.page.getByRole('button', { name: 'Undo' }).click();
  await person.page
    .locator('.field:has([data-path="runners.r3.nodes.n2.radius"]) .field-problem')
    .waitFor({ state: 'detached' });
}

async function sendBad(person: Person, file: string): Promise<string> {
  const { page } = person;
  const dialog = await bring(page, file, 'scan');
  const send = dialog.getByRole('button', { name: 'Send' });
  // What can be seen before it is sent is not sent.
  if (await send.count()) await send.click();
  const text = await dialog.locator('[role=alert]').innerText();
  await person.shot('22-bad-scan');
  await dialog.getByRole('button', { name: 'Close', exact: true }).click();
  return text;
}

/** A file in metres: what millimetres make of it is seen before it is sent, and the right unit is one tap away. */
async function wrongUnit(person: Person): Promise<void> {
  const { page } = person;
  const dialog = await bring(page, metresPly(), 'scan');
  const span = dialog.locator('[data-span]');
  assert.match(await span.innerText(), /In millimetres it is about 0\.04 mm x .*: no bay and no part is so/);
  await person.shot('22-unlikely');
  await span.getByRole('button', { name: /^metres: / }).click();
  await dialog.locator('[data-span=likely]').waitFor();
  await dialog.getByRole('button', { name: 'Send' }).click();
  assert.match(
    await dialog.locator('[role=status]').innerText(),
    /points read from metres\.ply \(PLY, binary\), 2 without a place left out/,
  );
  await dialog.getByRole('button', { name: 'Close', exact: true }).click();
  await page.getByRole('button', { name: 'Undo' }).click();
}

async function badScans(person: Person): Promise<void> {
  const before = await person.page.locator('.toggles li').count();
  assert.match(await sendBad(person, emptyFile()), /empty|0 bytes|no bytes/i);
  assert.match(await sendBad(person, lyingPly()), /1,?000,?000/);
  assert.equal(await person.page.locator('.toggles li').count(), before, 'a refused scan must leave no component');
}

async function sameName(person: Person): Promise<void> {
  await type(person.page, 'components.loom.name', 'Hood');
  await person.page.getByText('Expected each name once, "Hood" is there twice.').waitFor();
  await person.page.getByRole('button', { name: 'Undo' }).click();
  await person.page.getByText('Expected each name once').waitFor({ state: 'detached' });
}

async function badFile(person: Person): Promise<void> {
  const input = person.page.locator('.spec-file input[type=file]');
  await reveal(input);
  const content = JSON.stringify({ format: 'slipjoint-spec', version: 1, tube: { wall: '2' }, engine: { lambda: 9 } });
  await input.setInputFiles({ name: 'bad.json', mimeType: 'application/json', buffer: Buffer.from(content) });
  const problems = person.page.locator('.spec-file .problem');
  await problems.waitFor();
  assert.match(
    await problems.innerText(),
    /tube\.wall: expected a unit[\s\S]*engine\.lambda: expected 0\.700 to 1\.500, got 9\.000/,
  );
  assert.equal(await field(person.page, 'tube.wall').inputValue(), '2.00');
}

/** Bad input gets a message where the person is looking, and the project stays usable. */
export async function walkBadInput(browser: Browser, server: DemoServer): Promise<Tally> {
  const person = await sitDown(browser, 'designer-bad-input');
  const steps = [
    { name: 'sign in', run: () => signIn(person, server, 'designer') },
    { name: 'text that is no such quantity never leaves its field', run: () => refusedText(person) },
    { name: 'a bend that does not fit says so in its cell', run: () => bendThatDoesNotFit(person) },
    { name: 'an empty and a lying scan are refused with reasons', run: () => badScans(person) },
    { name: 'a unit that cannot be is pointed out before anything is sent', run: () => wrongUnit(person) },
    { name: 'a name given twice is pointed out', run: () => sameName(person) },
    { name: 'a bad spec file changes nothing and lists its problems', run: () => badFile(person) },
    { name: 'the page did not complain', run: async () => assert.deepEqual(person.complaints, []) },
  ];
  return runSteps('bad input', steps, () => person.shot('failed-bad-input'));
}
