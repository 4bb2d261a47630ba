import { useId } from 'react';
import { ThemeSwitch } from './theme.tsx';

interface MoreAct {
  readonly label: string;
  readonly act: () => void;
}

/** What is wanted now and then, behind one button: the strip has room for what is wanted all the time. */
export function More({ acts }: { readonly acts: readonly MoreAct[] }): React.ReactNode {
  const id = useId();
  return (
    <>
      <button type="button" className="button" popoverTarget={id}>
        More
      </button>
      <div id={id} popover="auto" className="more">
        {acts.map(({ label, act }) => (
          <button
            key={label}
            type="button"
            className="button"
            popoverTarget={id}
            popoverTargetAction="hide"
            onClick={act}
          >
            {label}
          </button>
        ))}
        <ThemeSwitch />
      </div>
    </>
  );
}
