import assert from 'node:assert/strict';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { testFolder } from '../support/folder.ts';
import { keepState, more, type Person, signIn, sitDown, type } from './person.ts';
import { runSteps, type Tally } from './scenario.ts';
import type { DemoServer } from './server.ts';

/** Presses a button that hands out a file; resolves to what it holds. */
async function taken({ page }: Person, folder: string, button: string): Promise<Buffer> {
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: button, exact: true }).click(),
  ]);
  const file = join(folder, download.suggestedFilename());
  await download.saveAs(file);
  return readFileSync(file);
}

async function pin({ page }: Person, text: string): Promise<void> {
  await page.getByRole('tab', { name: 'Punch list' }).click();
  await page.getByRole('button', { name: 'Pin a markup' }).click();
  const canvas = await page.locator('.bay-canvas').boundingBox();
  assert.ok(canvas);
  const asked = page.getByLabel('What about this place?');
  for (const share of [0.5, 0.55, 0.45, 0.6]) {
    await page.mouse.click(canvas.x + canvas.width * share, canvas.y + canvas.height * share);
    if (await asked.isVisible()) break;
  }
  await asked.fill(text);
  await page.getByRole('button', { name: 'Pin it' }).click();
  await page.locator('.label-pin').first().waitFor({ state: 'attached' });
}

const isPaper = (bytes: Buffer): void => assert.equal(bytes.subarray(0, 5).toString(), '%PDF-');

/** Pictures in a PDF are JPEG streams. */
const pictures = (bytes: Buffer): number => bytes.toString('latin1').split('/DCTDecode').length - 1;

/** A phone has the same dialog in the width it has. */
async function onPhone(browser: Browser, server: DemoServer, folder: string): Promise<void> {
  const phone = await sitDown(browser, 'phone-papers', { width: 360, height: 780 });
  await signIn(phone, server, 'reviewer');
  await more(phone.page, 'Papers');
  const sheet = phone.page.locator('.dialog-body');
  const overflow = await sheet.evaluate((body) => body.scrollWidth - body.clientWidth);
  assert.ok(overflow <= 0, `the papers are ${overflow} px wider than the phone`);
  for (const button of await sheet.getByRole('button').all())
    assert.ok(((await button.boundingBox())?.height ?? 0) >= 44, await button.innerText());
  await phone.shot('90-papers');
  isPaper(await taken(phone, folder, 'Traveller, Letter'));
  assert.equal(await sheet.getByRole('checkbox').isDisabled(), true);
  assert.deepEqual(phone.complaints, []);
  await phone.context.close();
}

/** Papers and tables are taken away; the code on a paper answers whoever scans it. */
export async function walkPapers(browser: Browser, server: DemoServer): Promise<Tally> {
  const lead = await sitDown(browser, 'lead-papers');
  const passer = await sitDown(browser, 'passer-by', { width: 360, height: 640 });
  const folder = testFolder();
  const project = new URL(server.job).pathname.split('/').at(-1) ?? '';
  let code = '';
  const steps = [
    { name: 'sign in', run: () => signIn(lead, server, 'lead') },
    {
      name: 'the review pack has a picture of the markup',
      run: async () => {
        await pin(lead, 'Too near the bracket');
        await more(lead.page, 'Papers');
        await lead.shot('90-papers');
        const pack = await taken(lead, folder.path, 'Review pack, A4');
        isPaper(pack);
        assert.equal(pictures(pack), 1);
        writeFileSync(new URL('../artefacts/90-review-pack.pdf', import.meta.url), pack);
      },
    },
    {
      name: 'the traveller, the sheets and the tables are handed out',
      run: async () => {
        for (const paper of ['Traveller, A4', 'Weld process sheets, Letter', 'Purge sheet, A4'])
          isPaper(await taken(lead, folder.path, paper));
        const csv = (await taken(lead, folder.path, 'Gates as CSV')).toString('utf8');
        assert.match(csv, /^\ufeffgate,title,state/);
        const gates = JSON.parse((await taken(lead, folder.path, 'Gates as JSON')).toString('utf8'));
        const design = gates.find((row: { readonly gate: string }) => row.gate === 'design');
        code = `${server.url}/g/${project}/design?d=${design.digest.slice(0, 16)}`;
      },
    },
    {
      name: 'who scans the code sees current, and stale once the header has moved',
      run: async () => {
        await passer.page.goto(code);
        await passer.page.getByRole('heading', { name: 'CURRENT' }).waitFor();
        await passer.shot('91-current');
        await lead.page.getByRole('button', { name: 'Close', exact: true }).click();
        await type(lead.page, 'tube.outsideDiameter', '45 mm');
        await keepState(lead.page, 'checked');
        await passer.page.reload();
        await passer.page.getByRole('heading', { name: /STALE since 20/ }).waitFor();
        await passer.shot('91-stale');
      },
    },
    { name: 'a phone has the papers', run: () => onPhone(browser, server, folder.path) },
    {
      name: 'the page did not complain',
      run: async () => assert.deepEqual([...lead.complaints, ...passer.complaints], []),
    },
  ];
  const tally = await runSteps('papers', steps, () => lead.shot('failed-papers'));
  folder.dispose();
  return tally;
}
