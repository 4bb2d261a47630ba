import assert from 'node:assert/strict';
import type { Locator } from 'playwright-core';
import type { Vec3 } from '../../shared/geometry/vector.ts';
import { askewBox } from './files.ts';
import { bring, field, keepState, type Person, reveal, type } from './person.ts';

/** Box around a scan of the job, millimetres. */
async function extents({ page }: Person, name: string): Promise<{ readonly min: Vec3; readonly max: Vec3 }> {
  const bounds = await page.evaluate(async (wanted) => {
    const answer = await fetch(`${location.pathname.replace('/j/', '/api/projects/')}/scans`);
    const { scans } = (await answer.json()) as { scans: { name: string; bounds: { min: Vec3; max: Vec3 } }[] };
    return scans.find((one) => one.name === wanted)?.bounds;
  }, name);
  assert.ok(bounds, `no scan ${name}`);
  return bounds;
}

/** A number of millimetres in a cell of what a fit left. */
async function leftAt(block: Locator, when: 'before' | 'after'): Promise<number> {
  return Number.parseFloat(await block.locator(`[data-left=${when}] td`).first().innerText());
}

/** A fit that did not come to rest is told with its figures, and not to be used. */
async function useless(block: Locator): Promise<void> {
  const page = block.page();
  const left = (rms: number) => ({ rms, size95: 2 * rms });
  const result = { before: left(2e-3), after: left(19e-4), shift: 0.004, compared: 300, overlap: 0.02, settled: false };
  await page.route(/\/scan-fit\?/, (route) => route.fulfill({ json: { state: 'done', result } }));
  await block.getByRole('button', { name: 'Try' }).click();
  await block.getByText('did not come to rest').waitFor();
  assert.match(await block.innerText(), /2 % of those looked at[\s\S]*overlap too little, or something was moved/);
  assert.equal(await block.getByRole('button', { name: 'Use it' }).count(), 0);
  await page.unroute(/\/scan-fit\?/);
}

/** A second look at the box is laid on the first, which lies by its datum points: tried, left, used and taken back. */
export async function fitted(designer: Person): Promise<void> {
  const { page } = designer;
  const dialog = await bring(page, askewBox(), 'scan');
  await dialog.getByLabel('Its name').fill('Second look');
  await dialog.getByRole('button', { name: 'Send' }).click();
  await dialog.locator('[role=status]').waitFor();
  await dialog.getByRole('button', { name: 'Close', exact: true }).click();
  const block = page.getByRole('region', { name: 'Fine fit of Second look', includeHidden: true });
  await reveal(block);
  const onto = block.getByLabel('Fine fit onto');
  const tryIt = block.getByRole('button', { name: 'Try' });
  assert.ok(await tryIt.isDisabled());
  // The rail is far off: said, and nothing to use.
  const far = await onto.locator('option').allInnerTexts();
  await onto.selectOption({ label: far.find((name) => !/choose|Bracket/.test(name)) ?? 'none' });
  await tryIt.click();
  assert.match(await block.getByRole('alert').innerText(), /expected scans that overlap/i);
  assert.equal(await block.getByRole('button', { name: 'Use it' }).count(), 0);
  await onto.selectOption({ label: 'Bracket' });
  assert.equal(await block.getByRole('alert').count(), 0);
  await tryIt.click();
  await block.locator('[data-left=after]').waitFor();
  const [before, after] = [await leftAt(block, 'before'), await leftAt(block, 'after')];
  assert.ok(before > 0.5 && after < 0.35, `${before} mm before, ${after} mm after`);
  await block.scrollIntoViewIfNeeded();
  await designer.shot('66-fitted');
  const id = (await onto.getAttribute('id'))?.replace('fit-onto-', '');
  // What was measured of other rows is not offered.
  await type(page, `components.${id}.fromX`, '100 mm');
  await block.getByText('A scan or its placing has changed since').waitFor();
  await type(page, `components.${id}.fromX`, '');
  await block.locator('[data-left=after]').waitFor();
  await useless(block);
  await tryIt.click();
  await block.locator('[data-left=after]').waitFor();
  await block.getByRole('button', { name: 'Leave it' }).click();
  await block.locator('[data-left=after]').waitFor({ state: 'detached' });
  assert.ok(await tryIt.evaluate((button) => button === document.activeElement));
  await page.keyboard.press('Enter');
  await block.getByRole('button', { name: 'Use it' }).focus();
  await page.keyboard.press('Enter');
  await block.getByText('askew fitted.ply is its scan now').waitFor();
  await designer.shot('67-used');
  // It lies where the first scanner has the box, and by the same datum points on the car.
  const [mine, first] = [await extents(designer, 'askew fitted.ply'), await extents(designer, 'turned.ply')];
  const off = [0, 1, 2].map((k) => Math.abs((mine.max[k] ?? 0) - (first.max[k] ?? 1)));
  // What the second look did not see is missing where that scanner counts x down from.
  const also = [1, 2].map((k) => Math.abs((mine.min[k] ?? 0) - (first.min[k] ?? 1)));
  assert.ok(Math.max(...off, ...also) < 0.001, JSON.stringify({ mine, first }));
  const [scan, lies] = [page.locator(`#scan-of-${id}`), field(page, `components.${id}.placed`)];
  const chosen = () => scan.evaluate((select: HTMLSelectElement) => select.selectedOptions[0]?.text);
  assert.deepEqual([await chosen(), await lies.inputValue()], ['askew fitted.ply, mm', 'by-datums']);
  await keepState(page, 'checked');
  await page.getByRole('button', { name: 'Undo' }).click();
  await page.waitForFunction(
    (one) => document.querySelector<HTMLSelectElement>(`#scan-of-${one}`)?.selectedOptions[0]?.text === 'askew.ply, mm',
    id,
  );
  assert.equal(await lies.inputValue(), '');
}

/** On a narrow phone the figures of a fit have room, and its buttons a thumb. */
export async function fitOnPhone(phone: Person): Promise<void> {
  const { page } = phone;
  await page.setViewportSize({ width: 360, height: 740 });
  const block = page.getByRole('region', { name: 'Fine fit of Second look', includeHidden: true });
  await reveal(block);
  await block.getByLabel('Fine fit onto').selectOption({ label: 'Bracket' });
  await block.getByRole('button', { name: 'Try' }).click();
  const use = block.getByRole('button', { name: 'Use it' });
  await use.waitFor();
  await block.evaluate((element) => element.scrollIntoView({ block: 'center' }));
  await phone.shot('68-fit');
  for (const one of await block.locator('button, select').all()) {
    const box = await one.boundingBox();
    assert.ok(box && box.height >= 44 && box.x >= 0 && box.x + box.width <= 360, JSON.stringify(box));
  }
  assert.ok(await page.evaluate(() => document.documentElement.scrollWidth <= 360));
}
