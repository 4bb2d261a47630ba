import { constants, setPriority } from 'node:os';
import { receiveMessageOnPort, workerData } from 'node:worker_threads';
import type { HelperStart, SharedTask } from '../kernels/crew.ts';
import { startKernel } from '../kernels/kernel-instance.ts';
import { joinShares } from '../kernels/shares.ts';

// On Linux this speaks of the calling thread alone: an edit must not wait for a measurement.
if (process.platform === 'linux') setPriority(0, constants.priority.PRIORITY_LOW);

/** Sleeps until it is called, takes parts of what is asked, and keeps nothing of it: memories of scans are large. */
const { module, bell, port }: HelperStart = workerData;
for (let heard = 0; ; ) {
  Atomics.wait(bell, 0, heard);
  heard = Atomics.load(bell, 0);
  for (let next = receiveMessageOnPort(port); next; next = receiveMessageOnPort(port)) help(next.message);
}

function help({ memory, scratch, board, shares }: SharedTask): void {
  joinShares(board, shares, () => startKernel(module, memory, scratch));
}
