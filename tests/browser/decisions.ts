import assert from 'node:assert/strict';
import type { Browser, Page } from 'playwright-core';
import { type Person, signIn, sitDown, type, verdict } from './person.ts';
import { runSteps, type Tally } from './scenario.ts';
import type { DemoServer } from './server.ts';

const REASON = 'tried on the bench, no boost';

const gate = (page: Page, id: string) => page.locator(`[data-gate=${id}] button`);
const punch = ({ page }: Person) => page.getByRole('tab', { name: 'Punch list' }).click();

/** A phone shows the list and the plan in the width it has. */
async function onPhone(browser: Browser, server: DemoServer): Promise<void> {
  const phone = await sitDown(browser, 'phone-decisions', { width: 360, height: 780 });
  await signIn(phone, server, 'lead');
  await phone.page.locator('.area-punch').click();
  await phone.page.getByTestId('stops').waitFor();
  await phone.shot('75-punch');
  await phone.page.locator('[data-stop="scan.still"] button').click();
  await phone.page.locator('[data-item=still][data-looked]').waitFor();
  await phone.page.getByRole('button', { name: 'Edit the plan' }).click();
  const editor = phone.page.locator('.dialog-body').last();
  await editor.getByRole('button', { name: 'Add an item' }).click();
  const overflow = await editor.evaluate((body) => body.scrollWidth - body.clientWidth);
  assert.ok(overflow <= 0, `the plan is ${overflow} px wider than the phone`);
  await phone.shot('76-plan');
  assert.deepEqual(phone.complaints, []);
  await phone.context.close();
}

/** The lead plans a gate and accepts a value outside its limit; the other sees both at once. */
export async function walkDecisions(browser: Browser, server: DemoServer): Promise<Tally> {
  const lead = await sitDown(browser, 'lead-decisions');
  const designer = await sitDown(browser, 'designer-decisions');
  const key = 'stud-preload/studs';
  const steps = [
    {
      name: 'the punch list says what waits for whom, and leads there',
      run: async () => {
        await Promise.all([signIn(lead, server, 'lead'), signIn(designer, server, 'designer')]);
        await punch(lead);
        await lead.page.locator('[data-stop]').first().waitFor();
        await lead.shot('70-punch');
        const item = lead.page.locator('[data-stop="scan.still"] button');
        await item.click();
        await lead.page.locator('[data-item=still][data-looked]').waitFor();
        await lead.shot('71-item');
        await lead.page.getByRole('button', { name: 'Close', exact: true }).click();
      },
    },
    {
      name: 'a lead edits the plan with a reason and the password; everybody is shown it',
      run: async () => {
        await gate(designer.page, 'weld').click();
        assert.equal(await designer.page.getByRole('button', { name: 'Edit the plan' }).count(), 0);
        await gate(lead.page, 'weld').click();
        await lead.page.getByRole('button', { name: 'Edit the plan' }).click();
        const editor = lead.page.locator('.plan-editor');
        await editor.getByRole('button', { name: 'Add an item' }).click();
        await editor.getByText(/expected a text of 1 to 200 characters/).waitFor();
        await editor.locator('.plan-item').last().locator('input').fill('Root gap felt at every joint');
        await editor.locator('.plan-item').last().locator('select').last().selectOption('joints.*.rootGap');
        await editor.getByLabel('Why the plan changes').fill('thin wall, gaps matter here');
        await editor.getByLabel('Your password again').fill('not the password');
        await lead.shot('72-plan');
        await editor.getByRole('button', { name: 'Put this plan in force' }).click();
        await editor.getByText(/asks for your own password again/).waitFor();
        await editor.getByLabel('Your password again').fill(server.password('lead'));
        await editor.getByRole('button', { name: 'Put this plan in force' }).click();
        await editor.waitFor({ state: 'detached' });
        for (const { page } of [lead, designer]) {
          await page.getByText('Root gap felt at every joint').first().waitFor();
          await page.locator('.item-fields [data-path^="joints."][data-path$=".rootGap"]').first().waitFor();
        }
        await designer.shot('73-measured');
        for (const { page } of [lead, designer]) await page.getByRole('button', { name: 'Close', exact: true }).click();
      },
    },
    {
      name: 'a lead accepts a value outside its limit until it gets worse',
      run: async () => {
        await lead.page.getByRole('tab', { name: 'Checks' }).click();
        await type(lead.page, 'stud.torque', '9 N·m');
        await verdict(lead.page, key, 'fail');
        const row = lead.page.locator(`[data-verdict="${key}"]`);
        await row.locator('.verdict-row').click();
        await row.getByRole('button', { name: 'Accept out of limits' }).click();
        await row.getByLabel('Why it may be used all the same').fill(REASON);
        await row.getByLabel('Your password again').fill(server.password('lead'));
        await row.getByRole('button', { name: 'Accept this value' }).click();
        await row.locator('.tag-conceded').waitFor();
        await lead.shot('74-accepted');
        const other = designer.page.locator(`[data-verdict="${key}"]`);
        await other.locator('.tag-conceded').waitFor();
        await type(designer.page, 'stud.torque', '8 N·m');
        await other.locator('.tag-conceded').waitFor({ state: 'detached' });
        await type(designer.page, 'stud.torque', '9 N·m');
        await row.locator('.tag-conceded').waitFor();
      },
    },
    {
      name: 'and ends it again',
      run: async () => {
        const row = lead.page.locator(`[data-verdict="${key}"]`);
        await row.getByRole('button', { name: 'End it' }).click();
        await row.getByLabel('Why it ends').fill('the studs were changed');
        await row.getByLabel('Your password again').fill(server.password('lead'));
        await row.getByRole('button', { name: 'End the concession' }).click();
        await row.locator('.tag-conceded').waitFor({ state: 'detached' });
        await gate(designer.page, 'design').click();
        await designer.page.getByText(/Ended by .*the studs were changed/).waitFor();
        await designer.shot('77-ended');
      },
    },
    { name: 'a phone shows it', run: () => onPhone(browser, server) },
    {
      name: 'the page did not complain',
      run: async () => assert.deepEqual([...lead.complaints, ...designer.complaints], []),
    },
  ];
  return runSteps('decisions', steps, () => lead.shot('failed-decisions'));
}
