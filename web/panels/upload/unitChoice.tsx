import { useEffect, useState } from 'react';
import { type ScanUnit, scanUnits } from '../../../shared/protocol/http.ts';
import { type FileSpan, fileSpan } from '../../state/fileSpan.ts';
import { plausibleUnits, spanText, unitNames } from '../../state/unitGuess.ts';

interface UnitChoiceProps {
  readonly file: File;
  readonly unit: ScanUnit;
  readonly onChoose: (unit: ScanUnit) => void;
}

/** Asks for the unit of a file, and shows what that makes of it before anything is sent. */
export function UnitChoice({ file, unit, onChoose }: UnitChoiceProps): React.ReactNode {
  const span = useSpan(file);
  const likely = span ? plausibleUnits(span) : [];
  return (
    <>
      <label className="entry-row">
        <span>Unit of the numbers in it</span>
        <select value={unit} onChange={(e) => onChoose(scanUnits.find((u) => u === e.target.value) ?? 'mm')}>
          {scanUnits.map((u) => (
            <option key={u}>{u}</option>
          ))}
        </select>
      </label>
      {span && (
        <div data-span={likely.includes(unit) ? 'likely' : 'unlikely'}>
          <p className={likely.includes(unit) ? 'quiet' : 'problem'}>
            In {unitNames[unit]} it is about {spanText(span, unit)}
            {likely.includes(unit) ? '.' : ': no bay and no part is so. Which unit is it in?'}
          </p>
          {!likely.includes(unit) && (
            <p className="acts">
              {likely.map((one) => (
                <button key={one} type="button" className="button" onClick={() => onChoose(one)}>
                  {unitNames[one]}: {spanText(span, one)}
                </button>
              ))}
            </p>
          )}
        </div>
      )}
    </>
  );
}

/** How far a file's numbers reach; null until that is known, or when it cannot be told. */
function useSpan(file: File): FileSpan | null {
  const [span, setSpan] = useState<FileSpan | null>(null);
  useEffect(() => {
    let left = false;
    setSpan(null);
    // A comfort before sending: a file that cannot be looked into is judged by the server.
    fileSpan(file).then(
      (found) => !left && setSpan(found),
      () => undefined,
    );
    return () => {
      left = true;
    };
  }, [file]);
  return span;
}
