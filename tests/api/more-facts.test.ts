import { describe, expect, it } from 'vitest';
import { MORE_BEGINS, moreOfForm, moreValuesOfFacts } from '../../server/plates/more-facts-form.js';
import { samplePlate } from '../support/gullwing.js';

describe('more about the plate', () => {
  it('says nothing where nothing is filled in', () => {
    expect(moreOfForm(MORE_BEGINS)).toEqual({ cutters: [], screwGroups: [] });
  });

  it('comes back from a kept revision as it was said, with what has no cell', () => {
    const ball = { feature: 'gate', form: 'ball', diameterMm: 1, taperDeg: null } as const;
    const cavity = { feature: 'cavity', form: 'tapered', diameterMm: 2, taperDeg: null } as const;
    const screw = { size: 'M5', lengthMm: 20, headSinkDepthMm: 6, headSinkDiameterMm: null };
    const values = moreValuesOfFacts({
      ...samplePlate,
      draftDeg: 1.5,
      cutters: [ball, cavity],
      screwGroups: [{ holeDiameterMm: null, holes: [3, 4], screw }],
    });
    expect(moreOfForm(values)).toEqual({
      draftDeg: 1.5,
      cutters: [
        { feature: 'cavity', form: 'tapered', diameterMm: 2 },
        { feature: 'gate', form: 'ball', diameterMm: 1 },
      ],
      screwGroups: [{ holes: [3, 4], screw: { size: 'M5', lengthMm: 20, headSinkDepthMm: 6 } }],
    });
  });

  it('asks again for what cannot be read, and for the screw of a group', () => {
    expect(moreOfForm({ ...MORE_BEGINS, draftDeg: 'steep' })).toEqual({ unread: ['draftDeg'] });
    expect(moreOfForm({ ...MORE_BEGINS, groupHoles: 'the upper ones' })).toMatchObject({
      unread: ['groupHoles'],
    });
    expect(moreOfForm({ ...MORE_BEGINS, groupDiameterMm: '5,5' })).toEqual({
      unread: ['groupScrew', 'groupScrewLengthMm'],
    });
  });
});
