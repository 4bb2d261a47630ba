import assert from 'node:assert/strict';
import type { Browser } from 'playwright-core';
import { signIn, sitDown } from './person.ts';
import { runSteps, type Tally } from './scenario.ts';
import type { DemoServer } from './server.ts';

/** The same job on a phone: one area at a time, nothing wider than the screen. */
export async function walkPhone(browser: Browser, server: DemoServer): Promise<Tally> {
  const person = await sitDown(browser, 'phone', { width: 390, height: 844 });
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
