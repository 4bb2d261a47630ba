import assert from 'node:assert/strict';
import type { Browser } from 'playwright-core';
import { type Person, signIn, sitDown } from './person.ts';
import { runSteps, type Tally } from './scenario.ts';
import type { DemoServer } from './server.ts';

/** The bay is most of what is seen of it, and no label lies over another or beyond the edge. */
async function bayIsSeen(person: Person): Promise<void> {
  const { page } = person;
  await page.locator('.areas').getByRole('button', { name: 'Bay' }).click();
  const labels = page.locator('.bay-labels .label:not([hidden])');
  await labels.first().waitFor();
  const canvas = await page.locator('.bay-canvas').boundingBox();
  assert.ok(canvas && canvas.height >= 0.6 * 740, `the bay is ${canvas?.height} px high`);
  const boxes = await labels.evaluateAll((elements) =>
    elements.map((element) => {
      const { left, top, right, bottom } = element.getBoundingClientRect();
      return { left, top, right, bottom, text: element.textContent };
    }),
  );
  for (const [i, a] of boxes.entries()) {
    assert.ok(a.right <= canvas.x + canvas.width + 1, `${a.text} is cut off at the right`);
    for (const b of boxes.slice(i + 1)) {
      const apart = a.right <= b.left + 1 || b.right <= a.left + 1 || a.bottom <= b.top + 1 || b.bottom <= a.top + 1;
      assert.ok(apart, `${a.text} lies over ${b.text}`);
    }
  }
}

/** The same job on a phone: one area at a time, nothing wider than the screen. */
export async function walkPhone(browser: Browser, server: DemoServer): Promise<Tally> {
  const person = await sitDown(browser, 'phone', { width: 360, height: 740 });
  const { page } = person;
  const area = async (name: string): Promise<void> => {
    await page.locator('.areas').getByRole('button', { name }).click();
    const overflow = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
    assert.ok(overflow <= 0, `${name}: ${overflow} px wider than the screen`);
    await person.shot(`30-${name.toLowerCase().replace(' ', '-')}`);
  };
  const steps = [
    { name: 'sign in', run: () => signIn(person, server, 'lead') },
    ...['Bay', 'Sheet', 'Checks', 'Punch list'].map((name) => ({
      name: `${name} fits the screen`,
      run: () => area(name),
    })),
    { name: 'the bay is seen, and its labels are read', run: () => bayIsSeen(person) },
    {
      name: 'a gate opens',
      run: async () => {
        await page.locator('[data-gate=design] button').click();
        await page.getByRole('dialog').getByText('People check').waitFor();
        await person.shot('30-gate');
      },
    },
    { name: 'the page did not complain', run: async () => assert.deepEqual(person.complaints, []) },
  ];
  return runSteps('phone', steps, () => person.shot('failed-phone'));
}
