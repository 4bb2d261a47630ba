import assert from 'node:assert/strict';
import type { Browser } from 'playwright-core';
import { field, more, type Person, signIn, sitDown } from './person.ts';
import { runSteps, type Tally } from './scenario.ts';
import type { DemoServer } from './server.ts';

const forYou = ({ page }: Person) => page.locator('.for-you button').first();
const told = (person: Person, count: number) => person.page.locator(`.for-you [data-unread="${count}"]`).waitFor();

/** Pins a remark the way a script would, from the page of whoever writes it. */
async function remark({ page }: Person, text: string): Promise<void> {
  const status = await page.evaluate(async (words) => {
    const answer = await fetch(`/api/projects/${location.pathname.split('/').at(-1)}/markups`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ at: [0.2, 0.1, 0.1], text: words }),
    });
    return answer.status;
  }, text);
  assert.equal(status, 201);
}

async function fits({ page }: Person, selector: string): Promise<void> {
  const overflow = await page.locator(selector).evaluate((box) => box.scrollWidth - box.clientWidth);
  assert.ok(overflow <= 0, `${selector} is ${overflow} px wider than it may be`);
}

/** Makes a key that may read and edit; its text. */
async function makeKey({ page }: Person): Promise<string> {
  await more(page, 'Keys for scripts');
  await page.getByLabel('What it is for').fill('nightly');
  await page.getByLabel('change the spec').check();
  await page.getByRole('button', { name: 'Make the key' }).click();
  const shown = page.locator('.shown-once input');
  await shown.waitFor();
  return shown.inputValue();
}

/** Notices reach whom they are for, one tap leads to the place; a key lets a script edit; whoever is taken out is out at once. */
export async function walkNotices(browser: Browser, server: DemoServer): Promise<Tally> {
  const lead = await sitDown(browser, 'lead-notices');
  const welder = await sitDown(browser, 'phone-notices', { width: 360, height: 740 });
  const reviewer = await sitDown(browser, 'reviewer-notices');
  const project = server.job.split('/').at(-1) ?? '';
  let key = '';
  const script = (body: unknown) =>
    fetch(`${server.url}/api/projects/${project}/spec`, {
      method: 'PATCH',
      headers: { Authorization: `Bearer ${key}`, 'content-type': 'application/json' },
      body: JSON.stringify(body),
    });
  const steps = [
    {
      name: 'nobody is told anything yet',
      run: async () => {
        await Promise.all([
          signIn(lead, server, 'lead'),
          signIn(welder, server, 'welder'),
          signIn(reviewer, server, 'reviewer'),
        ]);
        await told(welder, 0);
      },
    },
    {
      name: 'a remark that names the welder reaches the phone, and one tap leads to it',
      run: async () => {
        await remark(lead, '@welder is there room for the torch here?');
        await told(welder, 1);
        await told(lead, 0);
        await forYou(welder).click();
        const notice = welder.page.locator('[data-notice=mention] button');
        await notice.waitFor();
        await fits(welder, '.dialog-body');
        const height = (await notice.boundingBox())?.height ?? 0;
        assert.ok(height >= 44, `a notice is ${height} px high`);
        await welder.shot('80-for-you');
        await notice.click();
        const thread = welder.page.locator('.thread', { hasText: 'is there room for the torch' });
        await thread.waitFor();
        await welder.page.waitForFunction(
          (box) => {
            const { top, bottom } = box?.getBoundingClientRect() ?? { top: -1, bottom: -1 };
            return top >= 0 && bottom <= innerHeight;
          },
          await thread.locator('.thread-row').elementHandle(),
        );
        await told(welder, 0);
        await welder.shot('81-at-the-place');
      },
    },
    {
      name: 'the dialog says when no mail can leave',
      run: async () => {
        await more(lead.page, 'Mail and posts');
        await lead.page.getByText('This server sends no mail').waitFor();
        await lead.page.getByLabel('Address').fill('https://10.0.0.1/notices');
        await lead.page.getByRole('button', { name: 'Add', exact: true }).click();
        await lead.page.getByText('inside a private network').waitFor();
        await lead.shot('82-ways');
        await lead.page.getByRole('button', { name: 'Close', exact: true }).click();
      },
    },
    {
      name: 'a key lets a script edit, shown to all at once, and no longer once it is revoked',
      run: async () => {
        key = await makeKey(lead);
        assert.match(key, /^sj_/);
        await lead.shot('83-key');
        assert.equal((await script({ set: { 'project.event': 'by script' } })).status, 200);
        await reviewer.page.locator('.plate-title', { hasText: 'by script' }).waitFor();
        await lead.page.getByRole('button', { name: 'Revoke key nightly' }).click();
        await lead.page.getByText('revoked').waitFor();
        assert.equal((await script({ set: { 'project.event': 'again' } })).status, 401);
        await lead.page.getByRole('button', { name: 'Close', exact: true }).click();
        await field(lead.page, 'project.event').waitFor({ state: 'attached' });
      },
    },
    {
      name: 'whoever is taken out sees nothing more',
      run: async () => {
        await lead.page.getByRole('button', { name: 'Invite' }).click();
        await lead.page.locator('[data-member=reviewer]').getByRole('button').click();
        await lead.page.getByRole('button', { name: /^Yes, take/ }).click();
        await lead.page.locator('[data-member=reviewer]').waitFor({ state: 'detached' });
        await lead.shot('84-people');
        await reviewer.page.getByText('nothing here for this account').first().waitFor();
        await reviewer.shot('85-out');
      },
    },
    {
      name: 'the page did not complain',
      run: async () => assert.deepEqual([...lead.complaints, ...welder.complaints], []),
    },
  ];
  return runSteps('notices', steps, async () => {
    for (const person of [lead, welder, reviewer]) await person.shot('failed-notices');
  });
}
