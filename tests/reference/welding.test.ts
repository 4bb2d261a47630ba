import { describe, expect, it } from 'vitest';
import { fillerRows, type WeldMetal, weldMetals } from '../../shared/trade/data/fillers.ts';
import {
  colourSamples,
  heatInputSteps,
  interpassLimits,
  purgeOxygen,
  purgeUntil,
  purgeVolumeChanges,
  weldFamilies,
} from '../../shared/trade/data/weld-limits.ts';
import {
  cupBores,
  fillerDiameters,
  startSettings,
  startSettingsSource,
  thinSheetCurrent,
  thinSheetSource,
  torchClasses,
} from '../../shared/trade/data/weld-settings.ts';
import { cupBore } from '../../shared/trade/weld/cup-bore.ts';
import { currentWindow, startSettingsAt, tungstenFor } from '../../shared/trade/weld/current-window.ts';
import { fillerChoice } from '../../shared/trade/weld/filler-choice.ts';
import { gasDensity, molarMasses } from '../../shared/trade/weld/gas-density.ts';
import { arcEnergyFromEnergy, arcEnergyFromPower, pulsePower } from '../../shared/trade/weld/pulse-power.ts';
import { purgeTime } from '../../shared/trade/weld/purge-time.ts';
import { residualOxygen } from '../../shared/trade/weld/residual-oxygen.ts';
import { pressureDecay, testEnergy } from '../../shared/trade/weld/test-energy.ts';
import { torchTop } from '../../shared/trade/weld/torch-top.ts';
import {
  type Imperfection,
  imperfections,
  qualityLevels,
  shortLengthLimit,
  weldQualityLimit,
} from '../../shared/trade/weld/weld-quality.ts';
import { expectNear, knownValue } from './nearness.ts';

const mm = 1e-3;
const C = 273.15;

describe('fillers', () => {
  // All rows of the table: first choice of each pair; null: do not fusion weld.
  const pairs: readonly (readonly [WeldMetal, WeldMetal, string | null])[] = [
    ['625', '625', 'ERNiCrMo-3'],
    ['625', '718', 'ERNiCrMo-3'],
    ['625', '304L', 'ERNiCrMo-3'],
    ['625', '316L', 'ERNiCrMo-3'],
    ['625', '321', 'ERNiCrMo-3'],
    ['625', '347', 'ERNiCrMo-3'],
    ['625', 'ni-cast-iron', null],
    ['625', 'carbon-steel', 'ERNiCr-3'],
    ['321', '321', 'ER347'],
    ['347', '347', 'ER347'],
    ['321', '347', 'ER347'],
    ['304L', '304L', 'ER308L'],
    ['321', '304L', 'ER347'],
    ['304L', 'carbon-steel', 'ER309L'],
    ['321', 'carbon-steel', 'ER309L'],
    ['304L', '409', 'ER309L'],
    ['310', '310', 'ER310'],
    ['alloy-x', 'alloy-x', 'ERNiCrMo-2'],
    ['alloy-x', '625', 'ERNiCrMo-3'],
    ['ti-2', 'ti-2', 'ERTi-2'],
    ['ti-6al-4v', 'ti-6al-4v', 'ERTi-5'],
    ['ti-2', '304L', null],
    ['ti-6al-4v', '625', null],
  ];
  it.each(pairs)('%s to %s: %s', (a, b, first) => {
    const [there, back] = [knownValue(fillerChoice(a, b)), knownValue(fillerChoice(b, a))];
    expect(there).toBe(back);
    expect(there.source.document).not.toBe('');
    expect(there.weld ? there.first : null).toBe(first);
    if (!there.weld) expect(there.instead).not.toBe('');
  });

  it('titanium is welded to nothing but titanium; a pair nobody wrote down is unknown, not a guess', () => {
    for (const metal of weldMetals) {
      if (metal.startsWith('ti-')) continue;
      for (const titanium of ['ti-2', 'ti-6al-4v'] as const)
        expect(knownValue(fillerChoice(titanium, metal)).weld).toBe(false);
    }
    expect(fillerChoice('310', '409')).toMatchObject({ known: false, why: { reason: 'inconsistent' } });
    expect(fillerChoice('ti-2', 'ti-6al-4v').known).toBe(false);
    expect(fillerRows.length).toBeGreaterThanOrEqual(15);
  });
});

describe('settings', () => {
  it.each([
    [0.8, 15, 50, 1.6],
    [1.2, 40, 80, 1.6],
    [1.6, 60, 110, 2.4],
    [3, 90, 150, 2.4],
  ])('%d mm wall', (wall, low, high, tungsten) => {
    const row = knownValue(startSettingsAt(wall * mm));
    expect(row.current).toEqual([low, high]);
    expectNear(row.tungsten, tungsten * mm, 1e-9);
  });

  it('the start window holds the published thin-sheet current within a tenth and stays below the rule', () => {
    for (const [wall, current] of [...thinSheetCurrent.stainless, ...thinSheetCurrent['mild-steel']]) {
      const { low, high, top } = knownValue(currentWindow(wall));
      expect(low < high && high < top).toBe(true);
      expect(current).toBeLessThan(top);
      if (wall >= 1.2 * mm) expect(current > low * 0.9 && current < high * 1.1).toBe(true);
    }
    for (const wall of [0.2 * mm, 7 * mm, Number.NaN]) {
      expect(currentWindow(wall).known).toBe(false);
      expect(startSettingsAt(wall).known).toBe(false);
    }
    expect(startSettings).toHaveLength(4);
    expect([startSettingsSource.trust, thinSheetSource.trust]).toEqual(['excerpt', 'excerpt']);
  });

  it('the thinnest tungsten that carries the current', () => {
    expect([10, 60, 61, 100, 150].map((amps) => knownValue(tungstenFor(amps)) / mm)).toEqual([1, 1, 1.6, 1.6, 2.4]);
    for (const amps of [4, 181, Number.NaN])
      expect(tungstenFor(amps)).toMatchObject({ known: false, why: { reason: 'outOfValidity' } });
  });

  // Equipment manual: cup bores as printed, mm.
  it.each(cupBores)('cup %d', (cupNumber, bore) => {
    expectNear(knownValue(cupBore.evaluate({ cupNumber })), bore, 0.01);
  });

  it('filler is never thicker than the thickest wall of its row; a small torch is smaller', () => {
    for (const [wall, filler] of fillerDiameters) expect(filler[1]).toBeLessThanOrEqual(wall[1]);
    expect(torchClasses.small.shortCap[1]).toBeLessThan(torchClasses.standard.shortCap[1]);
    expect(torchTop(0, 0.03, 0.2).known).toBe(false);
  });
});

describe('pulse and power', () => {
  it('mean times mean under-states the power of a pulse, and is right for steady current', () => {
    const pulse = { peak: 100, background: 25, peakVoltage: 14, backgroundVoltage: 11, duty: 0.4 };
    const got = knownValue(pulsePower(pulse));
    expectNear(got.meanCurrent, 55, 1e-12);
    expectNear(got.power, 0.4 * 14 * 100 + 0.6 * 11 * 25, 1e-12);
    expect(got.missedShare).toBeGreaterThan(0.05);
    const steady = knownValue(pulsePower({ ...pulse, background: 100, backgroundVoltage: 14 }));
    expect(Math.abs(steady.missedShare)).toBeLessThan(1e-12);
    expect(pulsePower({ ...pulse, background: 200 })).toMatchObject({ known: false, why: { reason: 'inconsistent' } });
    expect(pulsePower({ ...pulse, duty: 2 })).toMatchObject({ known: false, why: { reason: 'outOfValidity' } });
    expect(pulsePower({ ...pulse, peakVoltage: 0 }).known).toBe(false);
  });

  it('the energy form and the power form are one', () => {
    expectNear(knownValue(arcEnergyFromEnergy(520 * 120, 0.15)), knownValue(arcEnergyFromPower(520, 120, 0.15)), 1e-12);
    expect(arcEnergyFromEnergy(1, 0).known).toBe(false);
  });
});

describe('purge', () => {
  it('oxygen after the purge time is the target, whatever the gas', () => {
    for (const residual of [0, 5e-6, 2e-5]) {
      const target = 100e-6;
      const purge = { volume: 2e-3, flow: 1e-4, target, residual, initial: 0.209, deadLegFactor: 1 };
      const volumeChanges = (knownValue(purgeTime.evaluate(purge)) * purge.flow) / purge.volume;
      expectNear(knownValue(residualOxygen.evaluate({ volumeChanges, initial: 0.209, residual })), target, 1e-9);
    }
  });

  it('argon is heavier than air; a gas of no mass is refused', () => {
    expect(molarMasses.argon).toBeGreaterThan(molarMasses.air);
    expect(gasDensity(0, 300, 1e5).known).toBe(false);
  });

  it('limits are in order, the colour samples rise', () => {
    for (const family of weldFamilies) {
      for (const { preferred, greatest, source } of [interpassLimits[family], purgeOxygen[family]]) {
        expect(preferred).toBeLessThanOrEqual(greatest);
        expect(source.document).not.toBe('');
      }
      expect(purgeVolumeChanges[family]).toBeGreaterThanOrEqual(5);
      expect(purgeUntil[family]).toBeGreaterThan(200 + C);
    }
    expect(purgeOxygen.titanium.greatest).toBeLessThan(purgeOxygen.austenitic.greatest);
    expect(colourSamples).toEqual([...colourSamples].sort((a, b) => a - b));
    expect(colourSamples).toHaveLength(10);
    expect(heatInputSteps.working < heatInputSteps.guard && heatInputSteps.guard < heatInputSteps.absolute).toBe(true);
  });
});

describe('quality levels', () => {
  const all: readonly Imperfection[] = [
    'crack',
    'excess-cap',
    'excess-penetration',
    'incomplete-root',
    'root-concavity',
    'shrinkage-groove',
    'step-plate',
    'step-round',
    'surface-pore',
    'undercut',
    'unfilled-groove',
  ];
  it.each(all)('%s: a stricter level never allows more, a thicker wall never less', (of) => {
    expect(imperfections[of]).not.toBe('');
    for (const wall of [0.5, 1, 1.6, 2, 3]) {
      const limits = qualityLevels.map(
        (level) => knownValue(weldQualityLimit(of, level, { wall: wall * mm, beadWidth: 4 * mm })).limit,
      );
      expect(limits).toEqual([...limits].sort((a, b) => b - a));
      for (const [i, level] of qualityLevels.entries()) {
        const thicker = weldQualityLimit(of, level, { wall: Math.min(3, wall * 1.2) * mm, beadWidth: 4 * mm });
        expect(knownValue(thicker).limit).toBeGreaterThanOrEqual(limits[i] ?? 0);
      }
    }
    for (const bad of [0.4, 21, Number.NaN])
      expect(weldQualityLimit(of, 'B', { wall: bad * mm, beadWidth: 4 * mm })).toMatchObject({
        known: false,
        why: { reason: 'outOfValidity' },
      });
  });

  it('no cracks at any level; a row given for thin walls only is not carried on', () => {
    for (const level of qualityLevels)
      expect(knownValue(weldQualityLimit('crack', level, { wall: 2 * mm, beadWidth: 0 })).limit).toBe(0);
    expect(weldQualityLimit('surface-pore', 'D', { wall: 4 * mm, beadWidth: 0 })).toMatchObject({
      known: false,
      why: { reason: 'inconsistent' },
    });
    const undercut = knownValue(weldQualityLimit('undercut', 'D', { wall: 2 * mm, beadWidth: 0 }));
    expect(undercut.shortOnly).toBe(true);
    expectNear(undercut.limit, 0.4 * mm, 1e-9);
  });

  it('short: 25 mm in any 100 mm, a quarter of a shorter weld', () => {
    expect(knownValue(shortLengthLimit(1))).toBe(25 * mm);
    expectNear(knownValue(shortLengthLimit(0.04)), 10 * mm, 1e-9);
    expect(shortLengthLimit(-1).known).toBe(false);
  });
});

describe('tests under pressure', () => {
  const test = { volume: 2.5e-3, gaugePressure: 1e5, surroundings: 101325, gamma: 1.4, bulkModulus: 2.2e9 };
  it('more pressure or volume stores more; the simple estimate is above the isentropic one; water stores next to nothing', () => {
    let before = 0;
    for (const gaugePressure of [0.2e5, 0.5e5, 1e5, 2e5, 5e5]) {
      const { brode, isentropic, liquid, ratio } = knownValue(testEnergy({ ...test, gaugePressure }));
      expect(isentropic).toBeGreaterThan(before);
      expect(isentropic).toBeLessThan(brode);
      expect(liquid).toBeLessThan(1);
      expect(ratio).toBeGreaterThan(1e3);
      before = isentropic;
    }
    expectNear(
      knownValue(testEnergy({ ...test, volume: 5e-3 })).isentropic,
      2 * knownValue(testEnergy(test)).isentropic,
      1e-12,
    );
    expect(testEnergy({ ...test, gamma: 1 })).toMatchObject({ known: false, why: { reason: 'outOfValidity' } });
    expect(pressureDecay({ volume: 0, drop: 1, time: 1, pressure: 2e5, temperature: 293 }).known).toBe(false);
  });
});
