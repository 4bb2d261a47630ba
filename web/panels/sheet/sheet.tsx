import { useState } from 'react';
import { groups, type SheetSection, sheetSections } from '../../../shared/spec/fields.ts';
import { isGroupKey } from '../../../shared/spec/path.ts';
import { type Found, findIn } from '../../state/findField.ts';
import { FieldFoot } from '../revisions/fieldFoot.tsx';
import { Elements } from './elements.tsx';
import { JobLimits } from './limits.tsx';
import { OwnMaterials } from './materials.tsx';
import { Runners } from './runners.tsx';
import { SpecField } from './specField.tsx';
import { SpecFile } from './specFile.tsx';

interface SectionProps {
  readonly title: string;
  readonly children: React.ReactNode;
  readonly open?: boolean;
}

function Section({ title, children, open = false }: SectionProps): React.ReactNode {
  return (
    <details className="section" open={open}>
      <summary className="section-title">{title}</summary>
      <div className="section-body">{children}</div>
    </details>
  );
}

function Branch({ branch, noun = '', found }: SheetSection & { readonly found: Found }): React.ReactNode {
  if (branch === 'runners') return <Runners />;
  if (branch === 'materials') return <OwnMaterials />;
  if (branch === 'limits') return <JobLimits />;
  if (!isGroupKey(branch)) return <Elements branch={branch} noun={noun} />;
  return (
    <div className="fields">
      {Object.keys(groups[branch])
        .filter((key) => typeof found === 'string' || found.has(key))
        .map((key) => (
          <SpecField key={key} path={`${branch}.${key}`} />
        ))}
    </div>
  );
}

/** The spec as ruled rows, edited together. */
export function Sheet(): React.ReactNode {
  const [text, setText] = useState('');
  const searching = text.trim() !== '';
  const sections = sheetSections
    .map((section) => ({ section, found: findIn(section, text) }))
    .filter(({ found }) => found !== 'none');
  return (
    <section className="sheet" aria-label="Sheet: the spec">
      <label className="sheet-find">
        Find in the sheet
        <input
          type="search"
          className="input-text"
          autoComplete="off"
          value={text}
          onChange={(e) => setText(e.target.value)}
          onKeyDown={(e) => {
            if (e.key === 'Escape') setText('');
          }}
        />
      </label>
      {sections.map(({ section, found }) => (
        // What a search opened must not stay open after it: hence another key.
        <Section
          key={`${section.branch}${searching ? ' found' : ''}`}
          title={section.title}
          open={searching || (section.open ?? false)}
        >
          <Branch {...section} found={found} />
        </Section>
      ))}
      {searching && sections.length === 0 && <p className="quiet">Nothing in the sheet says "{text.trim()}".</p>}
      <Section title="Spec file">
        <SpecFile />
      </Section>
      <FieldFoot />
    </section>
  );
}
