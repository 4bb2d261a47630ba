import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import type { Browser, Locator } from 'playwright-core';
import { damagedStl, soundBend, xyzText } from './files.ts';
import { bring, field, type Person, reveal, signIn, sitDown } from './person.ts';
import { runSteps, type Tally } from './scenario.ts';
import type { DemoServer } from './server.ts';

const close = (dialog: Locator) => dialog.getByRole('button', { name: 'Close', exact: true }).click();

/** A line of the report: its state and what it says. */
async function line(card: Locator, key: string): Promise<string> {
  const row = card.locator(`[data-line=${key}]`);
  return `${await row.getAttribute('data-state')}: ${(await row.innerText()).replaceAll(/\s+/g, ' ').trim()}`;
}

async function sent({ page }: Person, file: string): Promise<{ dialog: Locator; card: Locator }> {
  const dialog = await bring(page, file, 'part');
  await dialog.getByRole('button', { name: 'Send' }).click();
  const card = dialog.locator('.part');
  await card.locator('[data-report]:not([data-report=pending])').waitFor();
  return { dialog, card };
}

async function damaged(designer: Person): Promise<void> {
  const { dialog, card } = await sent(designer, damagedStl());
  assert.equal(await card.locator('[data-report]').getAttribute('data-report'), 'outside');
  assert.match(await line(card, 'openEdges'), /^outside: Open edges 4 .*encloses nothing/);
  assert.match(await line(card, 'flippedEdges'), /^outside: Edges with a flipped triangle 3 .*Turn all faces outwards/);
  assert.match(await line(card, 'holes'), /^outside: Holes 1 /);
  assert.match(await line(card, 'volume'), /^none: Volume cannot tell/);
  assert.match(await line(card, 'duplicate'), /^within: .* none$/);
  await designer.shot('50-damaged');
  // What can be put right without guessing is, in a copy; its hole stays.
  await card.getByRole('button', { name: 'Make a mended copy' }).click();
  const done = card.locator('.part-mend [role=status]').first();
  assert.match(await done.innerText(), /outlet mended\.ply: 1 triangle turned\. It has its own report/);
  const copy = card.locator('.part');
  await copy.locator('[data-report]:not([data-report=pending])').waitFor();
  assert.match(await line(copy, 'flippedEdges'), /^within: /);
  assert.match(await line(copy, 'holes'), /^outside: Holes 1 /);
  await designer.shot('50-mended');
  await card.getByRole('button', { name: 'Show one place' }).first().click();
  await dialog.waitFor({ state: 'detached' });
  const { page } = designer;
  await page.locator('.bay-labels').getByText('wrong here').waitFor();
  await designer.shot('50-place');
  await page.getByRole('button', { name: 'Put it away' }).click();
  await page.locator('.bay-labels').getByText('wrong here').waitFor({ state: 'detached' });
}

/** Dropped on the bay instead of chosen, and not what its name says. */
async function notAPart(designer: Person): Promise<void> {
  const { page } = designer;
  const content = readFileSync(xyzText(), 'utf8').slice(0, 4000);
  const transfer = await page.evaluateHandle((text) => {
    const data = new DataTransfer();
    data.items.add(new File([text], 'pipe.obj'));
    return data;
  }, content);
  await page.dispatchEvent('.bay-canvas', 'dragover', { dataTransfer: transfer });
  await page.dispatchEvent('.bay-canvas', 'drop', { dataTransfer: transfer });
  const dialog = page.getByRole('dialog');
  await dialog.getByText('pipe.obj').waitFor();
  await dialog.getByRole('button', { name: 'Send' }).click();
  assert.match(await dialog.getByRole('alert').innerText(), /expected/i);
  await designer.shot('50-not-a-part');
  await close(dialog);
}

async function sound(designer: Person): Promise<void> {
  const { dialog, card } = await sent(designer, soundBend());
  assert.equal(await card.locator('[data-report]').getAttribute('data-report'), 'within');
  assert.match(await line(card, 'volume'), /^none: Volume 44\.\d cm3/);
  assert.match(await card.innerText(), /the file states its unit/);
  await designer.shot('51-sound');
  await card.getByRole('button', { name: 'Use as piece' }).click();
  await card.locator('.poses tbody tr').first().waitFor();
  await designer.shot('52-piece');
  await close(dialog);
}

/** The other person, who was looking all the while, has the part, the piece and its surface. */
async function seen(designer: Person, lead: Person): Promise<void> {
  for (const { page } of [designer, lead])
    await page
      .locator('.toggles')
      .getByLabel(/outlet bend/)
      .waitFor({ state: 'attached' });
  const count = (person: Person) => person.page.getByRole('button', { name: /^Parts/ }).innerText();
  assert.equal(await count(lead), await count(designer));
  const id = await lead.page.evaluate(async () => {
    const answer = await fetch(`${location.pathname.replace('/j/', '/api/projects/')}/parts`);
    const { parts } = (await answer.json()) as { parts: { id: string; name: string }[] };
    return parts.find(({ name }) => name === 'outlet_bend.3mf')?.id ?? 'none';
  });
  await lead.page.waitForFunction(
    (part) => performance.getEntriesByType('resource').some((e) => e.name.includes(`${part}/mesh?format=glb`)),
    id,
  );
  for (const { page } of [designer, lead]) await page.getByRole('button', { name: 'iso' }).click();
  await designer.shot('53-bay');
  await lead.shot('53-bay');
}

async function posed(designer: Person, lead: Person): Promise<void> {
  const { page } = designer;
  await page.getByRole('button', { name: /^Parts/ }).click();
  const card = page.locator('.part').filter({ hasText: 'outlet_bend.3mf' });
  const rows = card.locator('.poses tbody tr');
  await rows.first().waitFor();
  const count = await rows.count();
  assert.ok(count >= 3 && count <= 10, `${count} poses`);
  await rows.nth(1).getByRole('button', { name: 'Stand it so' }).click();
  await card.locator('.poses [data-chosen=true]').waitFor();
  await designer.shot('54-posed');
  const turns = await card.locator('.poses [data-chosen=true] .pose-turn').innerText();
  // The lead's sheet has the same turns, without asking.
  const piece = await card.locator('[data-piece]').getAttribute('data-piece');
  const typed = field(lead.page, `pieces.${piece}.turnX`);
  await reveal(typed);
  await lead.page.waitForFunction(
    (path) => document.querySelector<HTMLInputElement>(`[data-path="${path}"]`)?.value !== '',
    `pieces.${piece}.turnZ`,
  );
  const values = [];
  for (const key of ['turnX', 'turnY', 'turnZ'])
    values.push(await field(lead.page, `pieces.${piece}.${key}`).inputValue());
  assert.equal(`${values.join(', ')} deg`, turns);
  await typed.scrollIntoViewIfNeeded();
  await lead.shot('54-sheet');
  await close(page.getByRole('dialog'));
}

async function takenAway(lead: Person): Promise<void> {
  const { page } = lead;
  await page.getByRole('button', { name: /^Parts/ }).click();
  const card = page.locator('.part').filter({ hasText: 'outlet_bend.3mf' });
  for (const [name, head] of [
    ['STL', 'Slipjoint, millimetres'],
    ['PLY', 'ply\n'],
  ] as const) {
    const waiting = page.waitForEvent('download');
    await card.getByRole('link', { name, exact: true }).first().click();
    const download = await waiting;
    assert.equal(download.suggestedFilename(), `outlet_bend.${name.toLowerCase()}`);
    assert.ok(
      readFileSync(await download.path())
        .toString('latin1')
        .startsWith(head),
    );
  }
  await close(page.getByRole('dialog'));
}

/** All of it: exact tubes, and one closed solid of the pieces. */
async function wholeTakenAway(lead: Person): Promise<void> {
  const { page } = lead;
  await page.getByRole('button', { name: /^Parts/ }).click();
  const whole = page.locator('.whole-header');
  await whole.scrollIntoViewIfNeeded();
  await lead.shot('56-whole');
  for (const [kind, head] of [
    ['STEP', 'ISO-10303-21;'],
    ['GLB', 'glTF'],
  ] as const) {
    const waiting = page.waitForEvent('download');
    await whole.getByRole('button', { name: kind, exact: true }).click();
    const content = readFileSync(await (await waiting).path()).toString('latin1');
    assert.ok(content.startsWith(head), `${kind} begins with ${content.slice(0, 20)}`);
    await whole.getByRole('button', { name: kind, exact: true }).waitFor();
  }
  assert.equal(await whole.getByRole('alert').count(), 0);
  await close(page.getByRole('dialog'));
}

async function onPhone(phone: Person, server: DemoServer): Promise<void> {
  const { page } = phone;
  await signIn(phone, server, 'scanner');
  await page.locator('.areas').getByRole('button', { name: 'Bay' }).click();
  await page.getByRole('button', { name: /^Parts/ }).click();
  const card = page.locator('.part').filter({ hasText: 'outlet.stl' });
  await card.locator('summary').click();
  await card.locator('[data-report=outside]').waitFor();
  const overflow = await page.locator('.dialog').evaluate((e) => e.scrollWidth - e.clientWidth);
  assert.ok(overflow <= 0, `the dialog is ${overflow} px wider than the screen`);
  await phone.shot('55-parts');
  await card.locator('summary').click();
  const bend = page.locator('.part').filter({ hasText: 'outlet_bend.3mf' });
  await bend.locator('.poses').scrollIntoViewIfNeeded();
  await phone.shot('55-poses');
  await close(page.getByRole('dialog'));
  await phone.shot('55-bay');
}

/** A damaged part, a sound one, a piece made from it, its build pose; two people and a phone. */
export async function walkParts(browser: Browser, server: DemoServer): Promise<Tally> {
  const designer = await sitDown(browser, 'designer-parts');
  const lead = await sitDown(browser, 'lead-parts', { width: 1280, height: 800 });
  const phone = await sitDown(browser, 'phone-parts', { width: 390, height: 844 });
  const people = [designer, lead, phone];
  const steps = [
    {
      name: 'designer and lead sign in',
      run: () => signIn(designer, server, 'designer').then(() => signIn(lead, server, 'lead')),
    },
    { name: 'a damaged part is told what is wrong with it', run: () => damaged(designer) },
    { name: 'what is no part is answered with the reason', run: () => notAPart(designer) },
    { name: 'a sound part becomes a piece', run: () => sound(designer) },
    { name: 'both see it in the bay', run: () => seen(designer, lead) },
    { name: 'a build pose is chosen and reaches the other sheet', run: () => posed(designer, lead) },
    { name: 'the part is taken away as STL and PLY', run: () => takenAway(lead) },
    { name: 'the whole header is taken away as STEP and GLB', run: () => wholeTakenAway(lead) },
    { name: 'it fits a phone', run: () => onPhone(phone, server) },
    {
      name: 'no page complained',
      run: async () =>
        assert.deepEqual(
          people.flatMap((p) => p.complaints),
          [],
        ),
    },
  ];
  return runSteps('parts', steps, async () => {
    for (const person of people) await person.shot('failed-parts').catch(() => undefined);
  });
}
