import { groups, groupTitles } from '../../../shared/spec/fields.ts';
import type { GroupKey } from '../../../shared/spec/spec.ts';
import { Elements } from './elements.tsx';
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

function Group({ branch, open = false }: { readonly branch: GroupKey; readonly open?: boolean }): React.ReactNode {
  return (
    <Section title={groupTitles[branch]} open={open}>
      <div className="fields">
        {Object.keys(groups[branch]).map((key) => (
          <SpecField key={key} path={`${branch}.${key}`} />
        ))}
      </div>
    </Section>
  );
}

/** The spec as ruled rows, edited together. */
export function Sheet(): React.ReactNode {
  return (
    <section className="sheet" aria-label="Sheet: the spec">
      <Group branch="engine" open />
      <Group branch="tube" open />
      <Section title={groupTitles.runners} open>
        <Runners />
      </Section>
      <Group branch="collector" />
      <Group branch="flange" />
      <Group branch="head" />
      <Group branch="stud" />
      <Section title={groupTitles.holes}>
        <Elements branch="holes" noun="Hole" />
      </Section>
      <Group branch="turbo" />
      <Group branch="bay" />
      <Section title={groupTitles.components}>
        <Elements branch="components" noun="Component" />
      </Section>
      <Section title={groupTitles.joints}>
        <Elements branch="joints" noun="Joint" />
      </Section>
      <Section title={groupTitles.purges}>
        <Elements branch="purges" noun="Purge volume" />
      </Section>
      <Group branch="project" />
      <Section title="Spec file">
        <SpecFile />
      </Section>
    </section>
  );
}
