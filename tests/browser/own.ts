import assert from 'node:assert/strict';
import type { Browser } from 'playwright-core';
import { field, type Person, reveal, signIn, sitDown, verdict } from './person.ts';
import { runSteps, type Tally } from './scenario.ts';
import type { DemoServer } from './server.ts';

const KEY = 'runner-mach/r1';

function row({ page }: Person) {
  return page.locator(`[data-verdict="${KEY}"]`);
}

async function setLimit(lead: Person, designer: Person): Promise<void> {
  await verdict(lead.page, KEY, 'pass');
  await row(lead).locator('.verdict-row').click();
  await row(lead).getByRole('button', { name: 'Set a limit for this job' }).click();
  const form = row(lead).getByRole('form', { name: 'Limit for this job' });
  await form.getByLabel('At most').fill('0.02');
  await form.getByRole('button', { name: 'Set the limit' }).click();
  assert.match(await form.locator('[role=alert]').innerText(), /reason/i);
  await lead.shot('40-limit-form');
  await form.getByLabel('Reason').fill('Rules of the series ask for it');
  await form.getByRole('button', { name: 'Set the limit' }).click();
  for (const { page } of [lead, designer]) await verdict(page, KEY, 'fail');
  await row(designer).locator('.verdict-row').click();
  assert.match(await row(designer).innerText(), /limit set by this job[\s\S]*Rules of the series ask for it/);
  await designer.shot('40-limit-set');
}

async function takeBack(lead: Person, designer: Person): Promise<void> {
  await row(designer).getByRole('button', { name: 'Back to the default' }).click();
  for (const { page } of [lead, designer]) await verdict(page, KEY, 'pass');
  assert.doesNotMatch(await row(lead).innerText(), /limit set by this job/);
}

/** An alloy nobody has figures for: every verdict that needs one says so, none passes. */
async function ownMaterial(lead: Person, designer: Person): Promise<void> {
  const { page } = designer;
  await page.getByRole('button', { name: 'Sheet', exact: true }).click();
  const add = page.locator('button', { hasText: 'Add an own material' });
  await reveal(add);
  await add.click();
  const name = page.locator('[data-path^="materials."][data-path$=".name"]');
  await reveal(name);
  await name.fill('Shop stainless');
  await name.press('Enter');
  const alloy = field(page, 'tube.alloy');
  await reveal(alloy);
  await alloy.selectOption({ label: 'Shop stainless (own)' });
  for (const person of [lead, designer]) await verdict(person.page, 'hoop-stress/r1', 'unknown');
  await designer.shot('41-own-material');
  await page.getByRole('button', { name: 'Undo' }).click();
  await verdict(lead.page, 'hoop-stress/r1', 'pass');
}

/** Two people at two screens: a limit set for the job and taken back, and a material of its own. */
export async function walkOwn(browser: Browser, server: DemoServer): Promise<Tally> {
  const lead = await sitDown(browser, 'lead-own');
  const designer = await sitDown(browser, 'designer-own', { width: 1024, height: 768 });
  const steps = [
    {
      name: 'lead and designer sign in',
      run: () => signIn(lead, server, 'lead').then(() => signIn(designer, server, 'designer')),
    },
    {
      name: 'a limit set for the job needs a reason, moves the verdict for both and says so',
      run: () => setLimit(lead, designer),
    },
    { name: 'the default comes back', run: () => takeBack(lead, designer) },
    { name: 'a material without figures is no pass', run: () => ownMaterial(lead, designer) },
    { name: 'no page complained', run: async () => assert.deepEqual([...lead.complaints, ...designer.complaints], []) },
  ];
  return runSteps('own limits and materials', steps, () =>
    lead.shot('failed-own').then(() => designer.shot('failed-own')),
  );
}
