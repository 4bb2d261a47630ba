import assert from 'node:assert/strict';
import type { Browser, Locator } from 'playwright-core';
import { field, keepState, more, type Person, reveal, signIn, sitDown, type, verdict } from './person.ts';
import { runSteps, type Tally } from './scenario.ts';
import type { DemoServer } from './server.ts';

const LIMIT = 'runner-mach/r1';
const END = 'runners.r1.nodes.n2.x';

async function open({ page }: Person): Promise<Locator> {
  await more(page, 'Revisions');
  const dialog = page.getByRole('dialog');
  await dialog.getByRole('heading', { name: 'Revisions', exact: true }).waitFor();
  return dialog;
}

const close = ({ page }: Person): Promise<void> =>
  page.getByRole('dialog').getByRole('button', { name: 'Close' }).click();

async function toSheet({ page }: Person): Promise<void> {
  await page.getByRole('button', { name: 'Sheet', exact: true }).click();
}

/** Both have the list open; one keeps a state, the other sees it come. */
async function keepOne(lead: Person, designer: Person): Promise<void> {
  const [mine, theirs] = [await open(lead), await open(designer)];
  await theirs.getByText('No revision yet.').waitFor();
  const form = mine.getByRole('form', { name: 'Keep this state as a revision' });
  await form.getByLabel('Name').fill('As agreed');
  await form.getByLabel('Note').fill('Before the firewall side is opened up');
  await form.getByRole('button', { name: 'Keep as revision' }).click();
  await form.getByText('Kept as revision A.').waitFor();
  for (const dialog of [mine, theirs]) await dialog.locator('[data-revision=A]').waitFor();
  assert.match(
    await theirs.locator('[data-revision=A]').innerText(),
    /As agreed[\s\S]*Before the firewall[\s\S]*Shop lead/,
  );
  await lead.shot('80-revisions');
  await close(lead);
  await close(designer);
}

async function changeThings(designer: Person): Promise<string> {
  const { page } = designer;
  // While the checks can be seen: at this width the sheet takes their place.
  await page.getByLabel('Show what is clear, too').check();
  await toSheet(designer);
  const input = field(page, END);
  await reveal(input);
  const before = await input.inputValue();
  await type(page, END, `${Number(before) + 12}`);
  await type(page, 'collector.mergeLength', '77 mm');
  await keepState(page, 'checked');
  return before;
}

async function setLimit({ page }: Person): Promise<void> {
  await verdict(page, LIMIT, 'pass');
  const row = page.locator(`[data-verdict="${LIMIT}"]`);
  await row.locator('.verdict-row').click();
  await row.getByRole('button', { name: 'Set a limit for this job' }).click();
  const form = row.getByRole('form', { name: 'Limit for this job' });
  await form.getByLabel('At most').fill('0.02');
  await form.getByLabel('Reason').fill('Rules of the series ask for it');
  await form.getByRole('button', { name: 'Set the limit' }).click();
  await verdict(page, LIMIT, 'fail');
}

async function compare(lead: Person): Promise<void> {
  const dialog = await open(lead);
  await dialog.locator('[data-revision=A]').getByRole('button', { name: 'Compare with now' }).click();
  const flipped = dialog.locator(`[data-flipped="${LIMIT}"]`);
  await flipped.waitFor();
  assert.match(await flipped.innerText(), /PASS[\s\S]*FAIL/);
  const merge = dialog.locator('[data-differs="collector.mergeLength"]');
  assert.match(await merge.innerText(), /77\.00 mm/);
  assert.match(await dialog.locator('[data-shift=r1]').innerText(), /moved by up to \d+\.\d+ mm/);
  await dialog.locator('.compare-figure canvas').waitFor();
  await lead.page.evaluate(() => new Promise((resolve) => requestAnimationFrame(() => requestAnimationFrame(resolve))));
  await lead.shot('81-compare');
  await dialog.locator('.compare-figure').scrollIntoViewIfNeeded();
  await lead.shot('82-compare-geometry');
  await merge.scrollIntoViewIfNeeded();
  await lead.shot('83-compare-fields');
  await close(lead);
}

/** Who changed a field, from the sheet. */
async function fieldHistory(lead: Person): Promise<void> {
  const { page } = lead;
  const input = field(page, 'collector.mergeLength');
  await reveal(input);
  await input.focus();
  const foot = page.getByRole('complementary', { name: 'The field you were in' });
  await foot.waitFor();
  await lead.shot('84-field-foot');
  await foot.getByRole('button', { name: 'Who changed it' }).click();
  const first = page.getByRole('dialog').locator('.change-group').first();
  await first.waitFor();
  assert.match(await first.innerText(), /Remote designer[\s\S]* to 77\.00 mm/);
  await lead.shot('85-field-history');
  await close(lead);
  await input.focus();
  await page.keyboard.press('Alt+h');
  await page.getByRole('dialog').locator('.change-group').first().waitFor();
  await close(lead);
}

async function whatChanged(lead: Person): Promise<void> {
  const dialog = await open(lead);
  await dialog.getByRole('button', { name: 'What changed, and who changed it' }).click();
  await dialog.locator(`[data-changed="${END}"]`).first().waitFor();
  assert.match(await dialog.locator('.change-groups').innerText(), /Remote designer[\s\S]*Shop lead/);
  await lead.shot('86-what-changed');
  await close(lead);
}

/** The lead puts it back; the designer sees the old figures; undo brings the new ones again. */
async function putBack(lead: Person, designer: Person, before: string): Promise<void> {
  const holds = (value: { path: string; wanted: string }) =>
    document.querySelector<HTMLInputElement>(`[data-path="${value.path}"]`)?.value === value.wanted;
  const seen = (person: Person, wanted: string) => person.page.waitForFunction(holds, { path: END, wanted });
  const now = await field(lead.page, END).inputValue();
  const dialog = await open(lead);
  await dialog.locator('[data-revision=A]').getByRole('button', { name: 'Put back' }).click();
  await dialog.getByText('Ticks of checklists and remarks stay').waitFor();
  await lead.shot('87-put-back');
  await dialog.getByRole('button', { name: 'Put revision A back' }).click();
  await dialog.locator('[data-restored=A]').waitFor();
  for (const person of [lead, designer]) await seen(person, before);
  for (const { page } of [lead, designer]) await verdict(page, LIMIT, 'pass');
  await dialog.getByRole('button', { name: 'Back to the revisions' }).click();
  await dialog.locator('[data-revision=A]').getByRole('button', { name: 'Compare with now' }).click();
  await dialog.getByText('no field and no check differs').waitFor();
  await close(lead);
  await lead.page.getByRole('button', { name: 'Undo' }).click();
  for (const person of [lead, designer]) await seen(person, now);
  await verdict(designer.page, LIMIT, 'fail');
}

async function onPhone(browser: Browser, server: DemoServer): Promise<void> {
  const phone = await sitDown(browser, 'phone-revisions', { width: 360, height: 780 });
  await signIn(phone, server, 'reviewer');
  const dialog = await open(phone);
  await dialog.locator('[data-revision=A]').waitFor();
  assert.equal(await dialog.getByRole('button', { name: 'Put back' }).count(), 0, 'a reviewer edits nothing');
  assert.equal(await dialog.getByRole('form', { name: 'Keep this state as a revision' }).count(), 0);
  await phone.shot('88-revisions');
  await dialog.locator('[data-revision=A]').getByRole('button', { name: 'Compare with now' }).click();
  await dialog.locator(`[data-flipped="${LIMIT}"]`).waitFor();
  const body = dialog.locator('.dialog-body');
  const overflow = await body.evaluate((element) => element.scrollWidth - element.clientWidth);
  assert.ok(overflow <= 0, `the comparison is ${overflow} px wider than the phone`);
  await phone.shot('89-compare');
  assert.deepEqual(phone.complaints, []);
  await phone.context.close();
}

/** Two people at two screens: a state is kept, things change, the two are compared, who changed what is looked up, and it is put back. */
export async function walkRevisions(browser: Browser, server: DemoServer): Promise<Tally> {
  const lead = await sitDown(browser, 'lead-revisions', { width: 1280, height: 800 });
  const designer = await sitDown(browser, 'designer-revisions', { width: 1024, height: 768 });
  let before = '';
  const steps = [
    {
      name: 'lead and designer sign in',
      run: () => signIn(lead, server, 'lead').then(() => signIn(designer, server, 'designer')),
    },
    { name: 'a state is kept and the other one sees it at once', run: () => keepOne(lead, designer) },
    {
      name: 'the designer moves a node and sets a field, the lead sets a limit',
      run: async () => {
        before = await changeThings(designer);
        await setLimit(lead);
      },
    },
    { name: 'fields, flipped checks and geometry are compared', run: () => compare(lead) },
    { name: 'the sheet says who changed a field', run: () => fieldHistory(lead) },
    { name: 'and the job says what changed', run: () => whatChanged(lead) },
    { name: 'the state is put back for both, and undo takes that back', run: () => putBack(lead, designer, before) },
    { name: 'a phone shows it to who may only look', run: () => onPhone(browser, server) },
    { name: 'no page complained', run: async () => assert.deepEqual([...lead.complaints, ...designer.complaints], []) },
  ];
  return runSteps('revisions', steps, () =>
    lead.shot('failed-revisions').then(() => designer.shot('failed-revisions')),
  );
}
