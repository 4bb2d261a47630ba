import type { Vec3 } from '../../../shared/geometry/vector.ts';
import type { MeshReportView, PartView } from '../../../shared/protocol/http.ts';
import { type ReportLine, reportLines, reportSummary } from '../../state/partReport.ts';
import { Mark, type MarkKind, Tag } from '../../ui/marks.tsx';
import { useJob } from '../job/context.ts';
import { Mend, mayMend } from './mend.tsx';
import { useAsked } from './useAsked.ts';

const marks: Readonly<Record<ReportLine['state'], MarkKind>> = {
  within: 'within',
  caution: 'caution',
  outside: 'outside',
  none: 'none',
};

interface ReportProps {
  readonly part: PartView;
  readonly onShow: (part: PartView, at: Vec3) => void;
  readonly onMended: (copy: PartView) => void;
}

/** What is wrong with a part's surface, what that means and what to do about it. */
export function PartReport({ part, onShow, onMended }: ReportProps): React.ReactNode {
  const { parts } = useJob();
  const asked = useAsked(part.id, (stop) => parts.report(part, stop));
  if (!asked)
    return (
      <p className="part-report" data-report="pending">
        <Tag kind="pending" text="CHECKING the surface" />
      </p>
    );
  if ('problem' in asked) return <Failed reason={asked.problem} />;
  if (asked.answer.state === 'failed') return <Failed reason={asked.answer.reason} />;
  return <Lines part={part} report={asked.answer.result} onShow={onShow} onMended={onMended} />;
}

function Failed({ reason }: { readonly reason: string }): React.ReactNode {
  return (
    <p className="problem" role="alert" data-report="failed">
      Its surface could not be checked: {reason}
    </p>
  );
}

function Lines({ part, report, onShow, onMended }: ReportProps & { readonly report: MeshReportView }): React.ReactNode {
  const lines = reportLines(report, part);
  const { state, text } = reportSummary(lines);
  const { at } = report;
  return (
    <section className="part-report" data-report={state}>
      <h3>
        Surface <Tag kind={marks[state]} text={text} />
        {at && (
          <button type="button" className="button" onClick={() => onShow(part, at)}>
            Show one place
          </button>
        )}
      </h3>
      <table>
        <tbody>
          {lines.map((line) => (
            <tr key={line.key} data-line={line.key} data-state={line.state}>
              <td>
                <Mark kind={marks[line.state]} />
              </td>
              <th scope="row">{line.label}</th>
              <td className="part-value" colSpan={line.means ? 1 : 2}>
                {line.value}
              </td>
              {line.means && (
                <td className="part-words">
                  {line.means} {line.todo && <strong>{line.todo}</strong>}
                </td>
              )}
            </tr>
          ))}
        </tbody>
      </table>
      {mayMend(report) && <Mend part={part} onMended={onMended} />}
    </section>
  );
}
