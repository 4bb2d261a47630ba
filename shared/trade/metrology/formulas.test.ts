import { formulaTable } from '../../../tests/support/formulaTable.ts';

formulaTable(import.meta.glob(['./*.ts', '!./*.test.ts'], { eager: true }));
