import type { Vec3 } from '../../../shared/geometry/vector.ts';
import type { PartView } from '../../../shared/protocol/http.ts';
import { useStore } from '../../state/store.ts';
import { Dialog } from '../../ui/dialog.tsx';
import { useJob } from '../job/context.ts';
import { PartCard } from './partCard.tsx';
import { WholeHeader } from './wholeHeader.tsx';

interface PartsDialogProps {
  readonly onClose: () => void;
  readonly onShow: (part: PartView, at: Vec3) => void;
}

/** Every part of the job, with what is wrong with it and what is made from it. */
export function PartsDialog({ onClose, onShow }: PartsDialogProps): React.ReactNode {
  const { parts } = useJob();
  const list = useStore(parts.list);
  return (
    <Dialog title="Parts" onClose={onClose} wide>
      {list.length === 0 && <p className="quiet">No part has been brought yet.</p>}
      {list.map((part, i) => (
        <PartCard key={part.id} part={part} open={list.length === 1 || i === list.length - 1} onShow={onShow} />
      ))}
      <WholeHeader />
    </Dialog>
  );
}
