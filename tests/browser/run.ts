import { walkAlign } from './align.ts';
import { walkBadInput } from './badInput.ts';
import { walkDecisions } from './decisions.ts';
import { walkNearness } from './nearness.ts';
import { walkNotices } from './notices.ts';
import { walkOwn } from './own.ts';
import { walkPapers } from './papers.ts';
import { walkParts } from './parts.ts';
import { launch } from './person.ts';
import { walkPhone } from './phone.ts';
import { walkRecord } from './record.ts';
import { walkRevisions } from './revisions.ts';
import type { Tally } from './scenario.ts';
import { startDemo } from './server.ts';
import { walkSigning } from './signing.ts';
import { walkStory } from './story.ts';

const stories = {
  story: walkStory,
  'bad-input': walkBadInput,
  phone: walkPhone,
  own: walkOwn,
  parts: walkParts,
  align: walkAlign,
  nearness: walkNearness,
  record: walkRecord,
  decisions: walkDecisions,
  signing: walkSigning,
  papers: walkPapers,
  revisions: walkRevisions,
  notices: walkNotices,
} as const;
const wanted = process.argv.slice(2);

/** Browser tests: each story on a server of its own. Ends with a line of JSON that the test run adds up. */
const total: Tally = { passed: 0, failed: 0 };
const browser = await launch();
for (const [name, walk] of Object.entries(stories)) {
  if (wanted.length > 0 && !wanted.includes(name)) continue;
  const server = await startDemo();
  try {
    const { passed, failed } = await walk(browser, server);
    total.passed += passed;
    total.failed += failed;
  } finally {
    // Whoever is left sitting would go on drawing beside the next story.
    for (const context of browser.contexts()) await context.close();
    await server.close();
  }
}
await browser.close();
console.log(JSON.stringify(total));
process.exitCode = total.failed > 0 ? 1 : 0;
