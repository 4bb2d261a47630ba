import { factTitle, factWords } from '../../../shared/gates/factWords.ts';
import { gateRow } from '../../../shared/gates/gates.ts';
import { isSignature, readStatement, type SignatureV2 } from '../../../shared/record/statement.ts';
import type { Spec } from '../../../shared/spec/spec.ts';
import { useStore } from '../../state/store.ts';
import { useJob } from '../job/context.ts';

const many = (count: number, one: string): string => `${count} ${one}${count === 1 ? '' : 's'}`;

/** A signature's statement as the server made it out; null for anything else. */
export function statementOf(text: string): SignatureV2 | null {
  const statement = readStatement(text);
  return statement && isSignature(statement) && statement.version === 2 ? statement : null;
}

/** A photo is named by the item it shows. */
const fileWords = (name: string, spec: Spec): string =>
  name.startsWith('ticks.') ? `photo, ${factTitle(`${name}s`, spec)}` : name;

function Files({ files }: Pick<SignatureV2, 'files'>): React.ReactNode {
  const { session } = useJob();
  const spec = useStore(session.spec);
  return (
    <ul>
      {files.map(({ sha256, name }) => (
        <li key={sha256}>
          {fileWords(name, spec)} <span className="digest">{sha256.slice(0, 16)}</span>
        </li>
      ))}
    </ul>
  );
}

/** In words, what a signature is about to say; it is read before it is given. */
export function WhatIsSigned({ statement }: { readonly statement: SignatureV2 }): React.ReactNode {
  const { session } = useJob();
  const spec = useStore(session.spec);
  const { concessions } = useStore(session.feed.state);
  const { signer, initials, meaning, gate, facts, files, verdicts } = statement;
  const resting = concessions.filter(({ id }) => statement.concessions.some((one) => one.id === id));
  const paths = Object.keys(facts);
  return (
    <div className="what-is-signed" data-testid="what-is-signed">
      <p>
        {signer.name} ({initials}), as {signer.role}: <strong>{meaning}</strong> for the gate “{gateRow(gate).title}” of{' '}
        {session.project.name}.
      </p>
      <ul>
        <li>
          <details>
            <summary>{many(paths.length, 'fact')} as they stand now</summary>
            <ul className="signed-facts">
              {paths.map((path) => (
                <li key={path}>
                  {factTitle(path, spec)}: {factWords(path, facts[path] ?? null, spec)}
                </li>
              ))}
            </ul>
          </details>
        </li>
        <li>
          {many(verdicts.length, 'check')} of rule set {statement.ruleSet},{' '}
          {verdicts.filter(({ status }) => status === 'pass').length} of them within limits
        </li>
        <li>
          {files.length === 0 ? 'No scans, parts or photos' : `${many(files.length, 'file')}: scans, parts and photos`}
          {files.length > 0 && <Files files={files} />}
        </li>
        <li>
          {resting.length === 0
            ? 'Nothing accepted outside its limit'
            : `Accepted outside ${resting.length === 1 ? 'its limit' : 'their limits'}: ${resting.map(({ title, reason }) => `${title} (${reason})`).join('; ')}`}
        </li>
        <li>The plan in force and everything in the record so far.</li>
      </ul>
    </div>
  );
}
