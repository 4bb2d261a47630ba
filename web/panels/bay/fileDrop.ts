import type { DragEvent } from 'react';

interface FileDrop {
  readonly onDragOver: (event: DragEvent) => void;
  readonly onDrop: (event: DragEvent) => void;
}

/** Lets a file be dropped; without it the browser would leave the job and open the file. */
export function fileDrop(allowed: boolean, take: (file: File) => void): FileDrop {
  const holdsFile = (event: DragEvent): boolean => event.dataTransfer.types.includes('Files');
  return {
    onDragOver: (event) => {
      if (!holdsFile(event)) return;
      event.preventDefault();
      event.dataTransfer.dropEffect = allowed ? 'copy' : 'none';
    },
    onDrop: (event) => {
      if (!holdsFile(event)) return;
      event.preventDefault();
      const [file] = event.dataTransfer.files;
      if (allowed && file) take(file);
    },
  };
}
