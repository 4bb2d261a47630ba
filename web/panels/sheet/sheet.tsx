import { groups, type SheetSection, sheetSections } from '../../../shared/spec/fields.ts';
import { isGroupKey } from '../../../shared/spec/path.ts';
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

function Branch({ branch, noun = '' }: SheetSection): React.ReactNode {
  if (branch === 'runners') return <Runners />;
  if (branch === 'materials') return <OwnMaterials />;
  if (branch === 'limits') return <JobLimits />;
  if (!isGroupKey(branch)) return <Elements branch={branch} noun={noun} />;
  return (
    <div className="fields">
      {Object.keys(groups[branch]).map((key) => (
        <SpecField key={key} path={`${branch}.${key}`} />
      ))}
    </div>
  );
}

/** The spec as ruled rows, edited together. */
export function Sheet(): React.ReactNode {
  return (
    <section className="sheet" aria-label="Sheet: the spec">
      {sheetSections.map((section) => (
        <Section key={section.branch} title={section.title} open={section.open ?? false}>
          <Branch {...section} />
        </Section>
      ))}
      <Section title="Spec file">
        <SpecFile />
      </Section>
    </section>
  );
}
