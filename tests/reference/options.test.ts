import { describe, expect, it } from 'vitest';
import * as options from '../../shared/spec/rows/options.ts';
import { alloyKeys } from '../../shared/trade/data/alloys.ts';
import { fillerRows, weldMetals } from '../../shared/trade/data/fillers.ts';
import { gasketKeys } from '../../shared/trade/data/gaskets.ts';
import { heatClassKeys } from '../../shared/trade/data/heat-classes.ts';
import { materialKeys } from '../../shared/trade/data/materials.ts';
import { cuttingOff, machiningStock, printMaterials } from '../../shared/trade/data/print-limits.ts';
import { propertyClassKeys } from '../../shared/trade/data/property-classes.ts';
import { threadKeys } from '../../shared/trade/data/threads.ts';
import { trustWords } from '../../shared/trade/source.ts';

/** The spec may not import the trade, so its option lists are copies. Here each is held against the table it copies. */
interface Copy {
  readonly table: readonly string[];
  /** Rows of the table that are not offered, with why. */
  readonly left?: readonly string[];
  readonly because?: string;
  /** Options beyond the table. */
  readonly beyond?: readonly string[];
}

const faceWords: Readonly<Record<string, string>> = {
  sealingFace: 'sealing-face',
  longFlangeFace: 'long-flange',
  supportedFace: 'supported-face',
};
const cutWords = [
  ['wireAllowance', 'wire-erosion'],
  ['sawAllowance', 'band-saw'],
] as const;
const rods = fillerRows.flatMap(({ answer }) => (answer.weld ? [answer.first, ...answer.others] : []));

const copies: Readonly<Record<string, Copy>> = {
  alloyOptions: {
    table: materialKeys,
    left: ['304L', '316L', '347', '718', 'A286', 'A356', 'Ti-2', 'Ti-6Al-4V', 'mild-steel'],
    because: 'the rules ask a tube and a flange for the hot properties of the three in alloyKeys',
  },
  threadOptions: {
    table: threadKeys,
    left: ['M7', 'M10x1', 'M12x1.25'],
    because: 'own choice: rarely met as exhaust studs',
  },
  propertyClassOptions: {
    table: propertyClassKeys,
    left: ['A4-70'],
    because: 'own choice: the stronger class of the same steel is offered',
  },
  heatClassOptions: { table: heatClassKeys },
  gasketOptions: {
    table: gasketKeys,
    left: [
      'corrugated-aluminium',
      'corrugated-filled-aluminium',
      'corrugated-filled-copper',
      'corrugated-filled-iron',
      'corrugated-filled-nickel-copper',
      'corrugated-filled-stainless',
      'corrugated-iron',
      'corrugated-nickel-copper',
      'grooved-aluminium',
      'grooved-copper',
      'grooved-iron',
      'grooved-nickel-copper',
      'jacketed-aluminium',
      'jacketed-chrome-steel',
      'jacketed-copper',
      'jacketed-iron',
      'jacketed-nickel-copper',
      'solid-aluminium',
      'solid-nickel-copper',
      'solid-stainless',
    ],
    because: 'own choice: soft or low-melting metals, and kinds not cut for exhaust ports',
  },
  weldMetalOptions: { table: weldMetals },
  fillerOptions: { table: [...new Set(rods)], beyond: ['other'] },
  trustOptions: { table: Object.keys(trustWords) },
  printAlloyOptions: {
    table: printMaterials,
    left: ['any'],
    because: 'it is the row for a powder that is not listed, and a build needs its density',
  },
  machinedFaceOptions: { table: Object.keys(machiningStock).map((key) => faceWords[key] ?? key) },
  separationOptions: { table: cutWords.filter(([key]) => key in cuttingOff).map(([, word]) => word) },
  // Words without a figure: the standard knows one right answer.
  reliefOptions: { table: [], beyond: ['on-the-plate', 'after-cutting', 'none'] },
};

const lists = Object.entries(options);

describe('option lists', () => {
  it('are all held against a table', () => {
    expect(Object.keys(copies).sort()).toEqual(lists.map(([name]) => name).sort());
  });

  it.each(lists)('%s offers the rows of its table, each once', (name, list) => {
    const { table, left = [], because, beyond = [] } = copies[name] ?? { table: [] };
    expect(list.length).toBe(new Set(list).size);
    expect(
      left.filter((key) => !table.includes(key)),
      'left out, but not in the table',
    ).toEqual([]);
    if (left.length > 0) expect(because ?? '').not.toBe('');
    const expected = [...table.filter((key) => !left.includes(key)), ...beyond];
    expect([...list].sort()).toEqual(expected.sort());
  });

  it('offers the alloys whose hot properties the rules ask for, no more', () => {
    expect([...options.alloyOptions].sort()).toEqual([...alloyKeys].sort());
  });
});
