import { Dialog } from '../../ui/dialog.tsx';
import { useJob } from '../job/context.ts';
import { Hooks } from './hooks.tsx';
import { MailSection } from './mail.tsx';

/** By what ways besides the app people hear of a job: one's own mail address, and for a lead where notices are posted to. */
export function NoticesDialog({ onClose }: { readonly onClose: () => void }): React.ReactNode {
  const { canManage } = useJob();
  return (
    <Dialog title="Mail and posts" onClose={onClose}>
      <MailSection />
      {canManage && <Hooks />}
    </Dialog>
  );
}
