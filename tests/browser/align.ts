import assert from 'node:assert/strict';
import type { Browser } from 'playwright-core';
import type { Vec3 } from '../../shared/geometry/vector.ts';
import { asTurned, printedBend, soundBend, turnedBox } from './files.ts';
import { fitOnPhone, fitted } from './fineFit.ts';
import { bring, field, keepState, type Person, reveal, signIn, sitDown, type, verdict } from './person.ts';
import { runSteps, type Tally } from './scenario.ts';
import type { DemoServer } from './server.ts';

/** The demo's datum points on the car, metres. */
const targets: Readonly<Record<string, Vec3>> = {
  'head-front': [-0.276, -0.004, 0.052],
  'head-rear': [0.276, -0.004, 0.052],
  strut: [0.462, 0.318, 0.204],
  rail: [-0.418, 0.455, -0.241],
  latch: [-0.037, 0.512, 0.287],
};
/** Middle of the top of the box, on the car. */
const onTop: Vec3 = [0.2, 0.12, -0.005];

/** Where the middle of the top of the box was last seen from above, in the view. */
const middle = { x: 0, y: 0 };

/** The verdict on runner 5 against the box: what it is now. */
async function boxVerdict({ page }: Person, status: string): Promise<string> {
  const found = await page.waitForFunction((wanted) => {
    const rows = document.querySelectorAll(
      `[data-verdict^="bay-clearance/r5~"][data-status=${wanted}]:not(.provisional)`,
    );
    return [...rows].find((row) => row.textContent?.includes('Bracket'))?.getAttribute('data-verdict') ?? false;
  }, status);
  return String(await found.jsonValue());
}

async function brought(designer: Person): Promise<void> {
  const { page } = designer;
  const dialog = await bring(page, turnedBox(), 'scan');
  await dialog.getByLabel('Its name').fill('Bracket');
  await dialog.getByRole('button', { name: 'Send' }).click();
  await dialog.locator('[role=status]').waitFor();
  await dialog.getByRole('button', { name: 'Close', exact: true }).click();
  const all = page.getByLabel('Show what is clear, too');
  if (!(await all.isChecked())) await all.check();
  // A metre from the car nothing is near it.
  await boxVerdict(designer, 'pass');
}

async function placed(designer: Person): Promise<void> {
  const { page } = designer;
  for (const [id, car] of Object.entries(targets))
    for (const [k, value] of asTurned(car).entries())
      await type(page, `datums.${id}.scan${'XYZ'[k]}`, `${(value * 1000).toFixed(2)} mm`);
  const component = (await boxVerdict(designer, 'pass')).split('~')[1];
  const choice = field(page, `components.${component}.placed`);
  await reveal(choice);
  await choice.selectOption('by-datums');
  await keepState(page, 'checked');
  await boxVerdict(designer, 'fail');
  const residuals = page.locator('.element:has([data-path="datums.strut.scanX"]) > summary');
  assert.match(await residuals.innerText(), /0\.00 mm left/);
  await designer.shot('60-placed');
}

async function picked(designer: Person): Promise<void> {
  const { page } = designer;
  // A few millimetres beside the box: what is pointed at has to be a point of it.
  const beside = asTurned([onTop[0], onTop[1], onTop[2] + 0.002]);
  for (const [k, value] of beside.entries())
    await type(page, `datums.latch.scan${'XYZ'[k]}`, `${(value * 1000).toFixed(2)} mm`);
  for (const [k, value] of onTop.entries())
    await type(page, `datums.latch.car${'XYZ'[k]}`, `${(value * 1000).toFixed(2)} mm`);
  for (const box of await page.locator('.toggles input').all())
    if (!(await box.locator('xpath=..').innerText()).includes('Bracket')) await box.uncheck();
  await page.getByRole('button', { name: 'top', exact: true }).click();
  const row = page.locator('.element:has([data-path="datums.latch.scanX"])');
  await row.getByRole('button', { name: 'Pick on the scan' }).click();
  const label = page.locator('[data-label="d:latch"]');
  await label.waitFor();
  await designer.shot('61-aimed');
  const at = await label.evaluate(
    (element) => /translate\(([-\d.]+)px, ([-\d.]+)px\)/.exec(element.style.transform)?.slice(1).map(Number) ?? [],
  );
  const canvas = await page.locator('.bay-canvas').boundingBox();
  assert.ok(canvas && at.length === 2);
  Object.assign(middle, { x: at[0], y: at[1] });
  // Nothing lies under the corner of the view.
  await page.mouse.click(canvas.x + 5, canvas.y + canvas.height - 5);
  await page.getByText('No scan point there.').waitFor();
  await page.mouse.click(canvas.x + (at[0] ?? 0), canvas.y + (at[1] ?? 0));
  await label.waitFor({ state: 'detached' });
  const values = await Promise.all(['X', 'Y', 'Z'].map((axis) => field(page, `datums.latch.scan${axis}`).inputValue()));
  const got = values.map((text) => Number(text) / 1000);
  const off = Math.hypot(...asTurned(onTop).map((x, k) => x - (got[k] ?? Number.NaN)));
  assert.ok(off < 0.004, `the point picked is ${off} m from the top of the box: ${values.join(', ')}`);
  assert.ok(
    Math.abs((got[2] ?? 0) - (onTop[2] + 0.5)) < 0.001,
    `the point picked is not on the box: ${values.join(', ')}`,
  );
  assert.match(await row.locator('> summary').innerText(), /\d\.\d\d mm left/);
  await designer.shot('62-picked');
}

/** A point that was picked wrongly is named by what the others fit to without it; one tap drops it, one brings it back. */
async function suspected(designer: Person): Promise<void> {
  const { page } = designer;
  const right = await field(page, 'datums.rail.scanZ').inputValue();
  await type(page, 'datums.rail.scanZ', `${Number(right) + 40} mm`);
  const suspect = page.locator('[data-suspect=rail]');
  await suspect.waitFor();
  await suspect.scrollIntoViewIfNeeded();
  assert.match(await suspect.innerText(), /Frame rail hole looks wrong: without it at most [\d.]+ mm is left/);
  await designer.shot('61-suspect');
  await suspect.getByRole('button', { name: 'Remove Frame rail hole' }).click();
  await field(page, 'datums.rail.scanZ').waitFor({ state: 'detached' });
  assert.equal(await suspect.count(), 0);
  await page.getByRole('button', { name: 'Undo' }).click();
  await suspect.waitFor();
  await type(page, 'datums.rail.scanZ', `${right} mm`);
  await suspect.waitFor({ state: 'detached' });
}

/** The box of a component grows round what is pointed at, and goes again. */
async function boxed(designer: Person): Promise<void> {
  const { page } = designer;
  const component = (await boxVerdict(designer, 'fail')).split('~')[1];
  const side = (name: string) => field(page, `components.${component}.${name}`);
  await reveal(side('fromX'));
  const row = page.locator(`.element:has([data-path="components.${component}.fromX"])`);
  await row.getByRole('button', { name: 'Pick its box on the scan' }).click();
  const canvas = await page.locator('.bay-canvas').boundingBox();
  assert.ok(canvas);
  // Two corners of the box as it is seen from above, found by where its middle was.
  for (const [dx, dy] of [
    [-4, -4],
    [4, 4],
  ] as const)
    await page.mouse.click(canvas.x + middle.x + dx, canvas.y + middle.y + dy);
  await page.getByText('each widens its box, 2 so far').waitFor();
  await designer.shot('63-boxed');
  await page.locator('.bay-hint').getByRole('button', { name: 'Done' }).click();
  const [from, to] = [Number(await side('fromX').inputValue()), Number(await side('toX').inputValue())];
  assert.ok(from >= 170 && to <= 230 && to - from >= 20 && to - from <= 50, `the box goes from ${from} to ${to} mm`);
  await keepState(page, 'checked');
  await boxVerdict(designer, 'fail');
  await row.getByRole('button', { name: 'Take the whole scan' }).click();
  assert.equal(await side('fromX').inputValue(), '');
}

/** A part becomes a piece, its print is scanned in another frame, and the check of the print takes the scan. */
async function compared(designer: Person): Promise<void> {
  const { page } = designer;
  const part = await bring(page, soundBend(), 'part');
  await part.getByRole('button', { name: 'Send' }).click();
  await part.getByRole('button', { name: 'Use as piece' }).click();
  await part.getByRole('button', { name: 'Close', exact: true }).click();
  const scan = await bring(page, printedBend(), 'scan');
  await scan.getByLabel('Shows').selectOption('printed:runner-1');
  await scan.getByRole('button', { name: 'Send' }).click();
  assert.match(await scan.locator('[role=status]').innerText(), /being compared with its part/);
  await scan.getByRole('button', { name: 'Close', exact: true }).click();
  await verdict(page, 'print-deviation/runner-1', 'unknown');
  const piece = page.locator('#piece-of-runner-1');
  await reveal(piece);
  await piece.selectOption('outlet bend');
  await verdict(page, 'print-deviation/runner-1', 'fail');
  await field(page, 'printedPieces.runner-1.alignment').selectOption('best-fit');
  await verdict(page, 'print-deviation/runner-1', 'pass');
  const row = page.locator('[data-verdict="print-deviation/runner-1"]');
  await row.click();
  assert.match(await row.innerText(), /after a best fit/);
  await designer.shot('64-compared');
}

/** A tile that comes damaged is told of in the bay; the rest of the scan is there, and all of it once the tile comes whole. */
async function damagedTile(designer: Person): Promise<void> {
  const { page } = designer;
  let spoiled = 0;
  await page.route(/\/tiles\/[0-9a-f]{8}\/0-/, async (route) => {
    const answer = await route.fetch();
    const body = await answer.body();
    body[body.length - 5] = (body[body.length - 5] ?? 0) ^ 8;
    spoiled++;
    await route.fulfill({ response: answer, body });
  });
  await page.reload();
  await page
    .locator('.toggles .problem')
    .getByText(/Part of the scan .* is not shown: its sum differs/)
    .waitFor();
  // Each was asked for once more before it was given up.
  assert.ok(spoiled >= 2, `${spoiled} damaged answers`);
  await designer.shot('65-damaged');
  await page.unroute(/\/tiles\/[0-9a-f]{8}\/0-/);
  await page.reload();
  await page.waitForFunction(() =>
    performance.getEntriesByType('resource').some((e) => /\/tiles\/[0-9a-f]{8}\/0-/.test(e.name)),
  );
  assert.equal(await page.locator('.toggles .problem').count(), 0);
}

async function onPhone(phone: Person, server: DemoServer): Promise<void> {
  const { page } = phone;
  await signIn(phone, server, 'lead');
  await page.locator('.areas').getByRole('button', { name: 'Sheet' }).click();
  const row = page.locator('.element:has([data-path="datums.rail.scanX"])');
  // Folded away at first, where roles do not reach.
  await reveal(row.locator('button', { hasText: 'Pick on the scan' }));
  await row.getByRole('button', { name: 'Pick on the scan' }).click();
  await page.getByText('Point at Frame rail hole on the scan').waitFor();
  await phone.shot('63-aimed');
  await page.locator('.bay-hint').getByRole('button', { name: 'Leave it' }).click();
  await row.getByRole('button', { name: 'Pick on the scan' }).waitFor();
}

/** A scan in the frame of its scanner is placed by its datum points; one of them is picked on it. */
export async function walkAlign(browser: Browser, server: DemoServer): Promise<Tally> {
  const designer = await sitDown(browser, 'designer-align');
  const phone = await sitDown(browser, 'phone-align', { width: 390, height: 844 });
  const steps = [
    { name: 'designer signs in', run: () => signIn(designer, server, 'designer') },
    { name: 'a scan in another frame is clear of everything', run: () => brought(designer) },
    { name: 'placed by its datum points it clashes where it really is', run: () => placed(designer) },
    { name: 'a datum point that is wrong is named, dropped and brought back', run: () => suspected(designer) },
    { name: 'a datum point is picked on the scan', run: () => picked(designer) },
    { name: 'a component is cut to the box of what is pointed at', run: () => boxed(designer) },
    { name: 'a second look is laid finely on the first', run: () => fitted(designer) },
    { name: 'the scan of a printed piece is compared with its model', run: () => compared(designer) },
    { name: 'a damaged tile is told of and the rest is shown', run: () => damagedTile(designer) },
    { name: 'on a phone the scan comes up to be pointed at, and the row after it', run: () => onPhone(phone, server) },
    { name: 'and a scan is laid on another there', run: () => fitOnPhone(phone) },
    {
      name: 'no page complained',
      run: async () => assert.deepEqual([...designer.complaints, ...phone.complaints], []),
    },
  ];
  return runSteps('align', steps, async () => {
    await designer.shot('failed-align');
    await phone.shot('failed-align');
  });
}
