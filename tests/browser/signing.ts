import assert from 'node:assert/strict';
import { spawnSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import sharp from 'sharp';
import { testFolder } from '../support/folder.ts';
import { more, type Person, signIn, sitDown } from './person.ts';
import { runSteps, type Tally } from './scenario.ts';
import { type DemoServer, MAIN } from './server.ts';

/** The same server under another address: browsers offer passkeys to host names, and to no address made of numbers. */
function openAt(server: DemoServer, host: 'localhost' | '127.0.0.1'): DemoServer {
  const job = server.job.replace(/localhost|127\.0\.0\.1/, host);
  return { ...server, job, url: new URL(job).origin };
}

/** Chromium's own software authenticator: a device that verifies its owner and asks nobody. */
async function withAuthenticator({ context, page }: Person): Promise<void> {
  const session = await context.newCDPSession(page);
  await session.send('WebAuthn.enable');
  await session.send('WebAuthn.addVirtualAuthenticator', {
    options: {
      ...{ protocol: 'ctap2', transport: 'internal', hasResidentKey: true, hasUserVerification: true },
      ...{ isUserVerified: true, automaticPresenceSimulation: true },
    },
  });
}

async function openGate({ page }: Person): Promise<void> {
  await page.locator('[data-gate=scan] button').click();
  await page.getByTestId('record').waitFor();
}

async function registered({ page }: Person, password: string): Promise<void> {
  const dialog = page.getByRole('dialog', { name: 'Passkeys' });
  await dialog.getByLabel('Name of the device').fill('shop phone');
  await dialog.getByLabel('Your password again').fill('not the password');
  await dialog.getByRole('button', { name: 'Register', exact: true }).click();
  await dialog.getByText(/asks for your own password again/).waitFor();
  await dialog.getByLabel('Your password again').fill(password);
  await dialog.getByRole('button', { name: 'Register', exact: true }).click();
  await dialog.locator('.passkey').waitFor();
}

async function noOverflow({ page }: Person): Promise<void> {
  const sheet = page.locator('.dialog-body');
  const overflow = await sheet.evaluate((body) => body.scrollWidth - body.clientWidth);
  assert.ok(overflow <= 0, `the gate sheet is ${overflow} px wider than the screen`);
}

async function verified({ page }: Person, folder: string): Promise<string> {
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Take the record' }).click(),
  ]);
  const file = join(folder, 'signed.json');
  await download.saveAs(file);
  const run = spawnSync(process.execPath, [MAIN, 'verify', file], { encoding: 'utf8' });
  assert.equal(run.status, 0, run.stderr);
  return run.stdout;
}

/** A photo is added to an item, and what will be signed is read before it is signed, by passkey and by password. */
export async function walkSigning(browser: Browser, started: DemoServer): Promise<Tally> {
  const server = openAt(started, 'localhost');
  const byNumbers = openAt(started, '127.0.0.1');
  const scanner = await sitDown(browser, 'scanner-signing', { width: 360, height: 780 });
  const lead = await sitDown(browser, 'lead-signing');
  const folder = testFolder();
  const photo = join(folder.path, 'plate.png');
  const steps = [
    {
      name: 'a passkey is registered with the password',
      run: async () => {
        await Promise.all([signIn(scanner, server, 'scanner'), signIn(lead, byNumbers, 'lead')]);
        await withAuthenticator(scanner);
        await more(scanner.page, 'Passkeys');
        await scanner.page.getByText('You have none yet').waitFor();
        await registered(scanner, server.password('scanner'));
        await scanner.shot('62-passkeys');
        await noOverflow(scanner);
        await scanner.page.getByRole('button', { name: 'Close', exact: true }).click();
      },
    },
    {
      name: 'a photo is added to an item, seen by others, and one too many is taken away',
      run: async () => {
        const color = (background: string) => sharp({ create: { width: 1200, height: 800, channels: 3, background } });
        writeFileSync(photo, await color('#885522').png().toBuffer());
        await openGate(scanner);
        await openGate(lead);
        const item = scanner.page.locator('.item').first();
        await item.locator('input[type=file]').setInputFiles(photo);
        await item.locator('.photo img').waitFor();
        writeFileSync(photo, await color('#225588').png().toBuffer());
        await item.locator('input[type=file]').setInputFiles(photo);
        await item.locator('.photo').nth(1).waitFor();
        await lead.page.locator('.item .photo').nth(1).waitFor();
        await item.getByRole('button', { name: /^Remove photo 1/ }).click();
        await lead.page.waitForFunction(() => document.querySelectorAll('.item .photo').length === 1);
        const loaded = await lead.page
          .locator('.item .photo img')
          .evaluate((img) => (img as HTMLImageElement).decode().then(() => (img as HTMLImageElement).naturalWidth));
        assert.equal(loaded, 320);
        writeFileSync(photo, 'no photo at all');
        await item.locator('input[type=file]').setInputFiles(photo);
        await item.getByText(/This is no photo/).waitFor();
        await item.scrollIntoViewIfNeeded();
        await scanner.shot('62-photos');
        await noOverflow(scanner);
      },
    },
    {
      name: 'the scanner reads what he signs and signs with his passkey, on a phone',
      run: async () => {
        const { page } = scanner;
        for (const box of await page.locator('.item-hold input[type=checkbox]').all()) await box.check();
        await page.getByLabel('Your initials').fill('S.C.');
        assert.equal(await page.getByLabel('Confirm with').inputValue(), 'passkey');
        await page.getByRole('button', { name: 'Read what I sign' }).click();
        const read = page.getByTestId('what-is-signed');
        await read.waitFor();
        const text = await read.innerText();
        for (const words of [
          /\(S\.C\.\), as scanner: released/,
          /\d+ facts as they stand now/,
          /files?: scans, parts and photos/,
          /Nothing accepted outside its limit/,
        ])
          assert.match(text, words);
        await read.scrollIntoViewIfNeeded();
        await scanner.shot('62-what-is-signed');
        await noOverflow(scanner);
        await page.getByRole('button', { name: 'Sign with passkey' }).click();
        await page.getByText('over 1 row,').waitFor();
      },
    },
    {
      name: 'at an address of numbers the form says why there is no passkey, and the password does',
      run: async () => {
        const { page } = lead;
        await page.getByText('No passkey: passkeys need a host name, and this page is open at 127.0.0.1.').waitFor();
        await page.getByLabel('Your initials').fill('L.E.');
        await page.getByRole('button', { name: 'Read what I sign' }).click();
        await page.getByLabel('Your password again').fill(server.password('lead'));
        await lead.shot('62-what-is-signed');
        await page.getByRole('button', { name: 'Sign', exact: true }).click();
        await page.getByText('over 2 rows,').waitFor();
      },
    },
    {
      name: 'the record with both verifies without the server, passkey and all',
      run: async () => assert.match(await verified(lead, folder.path), /^2 rows, each as it was signed/),
    },
    {
      name: 'the passkey is taken away again',
      run: async () => {
        const { page } = scanner;
        await page.getByRole('button', { name: 'Close', exact: true }).click();
        await more(page, 'Passkeys');
        await page.getByRole('button', { name: 'Remove passkey shop phone' }).click();
        await page.getByText('You have none yet').waitFor();
      },
    },
    {
      name: 'the pages did not complain',
      run: async () => assert.deepEqual([...lead.complaints, ...scanner.complaints], []),
    },
  ];
  const tally = await runSteps('signing', steps, () => scanner.shot('failed-signing'));
  folder.dispose();
  return tally;
}
