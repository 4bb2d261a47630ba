import assert from 'node:assert/strict';
import { spawnSync } from 'node:child_process';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { testFolder } from '../support/folder.ts';
import { type Person, signIn, sitDown } from './person.ts';
import { runSteps, type Tally } from './scenario.ts';
import { type DemoServer, MAIN } from './server.ts';

async function openGate({ page }: Person): Promise<void> {
  await page.locator('[data-gate=scan] button').click();
  await page.getByTestId('record').waitFor();
}

async function sign({ page }: Person, password: string): Promise<void> {
  await page.getByLabel('Your initials').fill('N.N.');
  await page.getByRole('button', { name: 'Read what I sign' }).click();
  await page.getByLabel('Your password again').fill(password);
  await page.getByRole('button', { name: 'Sign', exact: true }).click();
}

const headShown = ({ page }: Person): Promise<string> => page.locator('.record-head').innerText();

/** Takes the record away and verifies the file with the built command line. */
async function takenAndVerified({ page }: Person, folder: string): Promise<string> {
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Take the record' }).click(),
  ]);
  const file = join(folder, download.suggestedFilename());
  await download.saveAs(file);
  const run = spawnSync(process.execPath, [MAIN, 'verify', file], { encoding: 'utf8' });
  assert.equal(run.status, 0, run.stderr);
  return run.stdout;
}

/** A phone shows the same head in the width it has. */
async function onPhone(browser: Browser, server: DemoServer, head: string): Promise<void> {
  const phone = await sitDown(browser, 'phone-record', { width: 390, height: 844 });
  await signIn(phone, server, 'lead');
  await openGate(phone);
  await phone.page.locator('.record-head').scrollIntoViewIfNeeded();
  assert.equal(await headShown(phone), head);
  const sheet = phone.page.locator('.dialog-body');
  const overflow = await sheet.evaluate((body) => body.scrollWidth - body.clientWidth);
  assert.ok(overflow <= 0, `the gate sheet is ${overflow} px wider than the phone`);
  await phone.shot('60-record');
  assert.deepEqual(phone.complaints, []);
  await phone.context.close();
}

/** The head of the record is shown where gates are signed, and what is taken away verifies without the server. */
export async function walkRecord(browser: Browser, server: DemoServer): Promise<Tally> {
  const lead = await sitDown(browser, 'lead-record');
  const scanner = await sitDown(browser, 'scanner-record');
  const folder = testFolder();
  let head = '';
  const steps = [
    {
      name: 'nothing is signed yet',
      run: async () => {
        await Promise.all([signIn(lead, server, 'lead'), signIn(scanner, server, 'scanner')]);
        await openGate(lead);
        await lead.page.getByText('Nothing has been signed in this job yet.').waitFor();
      },
    },
    {
      name: 'with each signature everybody sees the new head',
      run: async () => {
        await openGate(scanner);
        for (const box of await scanner.page.locator('.item-hold input[type=checkbox]').all()) await box.check();
        await sign(scanner, server.password('scanner'));
        await lead.page.getByText('over 1 row,').waitFor();
        const first = await headShown(lead);
        await sign(lead, server.password('lead'));
        for (const { page } of [lead, scanner]) await page.getByText('over 2 rows,').waitFor();
        head = await headShown(lead);
        assert.match(head, /^[0-9a-f]{4}( [0-9a-f]{4}){7}$/);
        assert.notEqual(head, first);
        assert.equal(await headShown(scanner), head);
        await lead.page.locator('.record-head').scrollIntoViewIfNeeded();
        await lead.shot('60-record');
      },
    },
    {
      name: 'the record is taken away and verifies without the server',
      run: async () => {
        const said = await takenAndVerified(lead, folder.path);
        assert.match(said, /^2 rows, each as it was signed/);
        assert.ok(said.includes(`head  ${head}  signed`), said);
      },
    },
    { name: 'a phone shows it', run: () => onPhone(browser, server, head) },
    {
      name: 'the page did not complain',
      run: async () => assert.deepEqual([...lead.complaints, ...scanner.complaints], []),
    },
  ];
  const tally = await runSteps('record', steps, () => lead.shot('failed-record'));
  folder.dispose();
  return tally;
}
