import type { Ctx } from '../../server/context.js';
import type { GradeFigures } from '../../server/engineering/polymers/grade.js';
import { accept } from '../../server/http/refused.js';
import { addGrade } from '../../server/resin/add-grade.js';

const NOT_SAID: GradeFigures = {
  ...{ meltMinC: null, meltMaxC: null, mouldMinC: null, mouldMaxC: null, ejectionC: null },
  ...{ dryingC: null, dryingHours: null, densityGPerCm3: null },
  ...{ shrinkageMinPercent: null, shrinkageMaxPercent: null, residenceMin: null },
  ...{ meltFlowGPer10Min: null, meltFlowCm3Per10Min: null, meltFlowC: null, meltFlowKg: null },
};

/** Two grades of the yard, both invented: one with a whole data sheet, and washed bottle caps. */
export async function seedGrades(steward: Ctx): Promise<void> {
  accept(
    await addGrade(steward, {
      name: 'Ferry PP 12',
      polymer: 'PP',
      isPostConsumer: false,
      sheetTitle: 'Ferry PP 12, processing guide (invented)',
      sheetDate: '2024-02-01',
      isHalogenated: false,
      fillerPercent: 0,
      figures: {
        ...NOT_SAID,
        ...{ meltMinC: 210, meltMaxC: 240, mouldMinC: 25, mouldMaxC: 50, ejectionC: 80 },
        ...{ dryingHours: 0, densityGPerCm3: 0.905, shrinkageMinPercent: 1.4, shrinkageMaxPercent: 1.8 },
        ...{ meltFlowGPer10Min: 12, meltFlowC: 230, meltFlowKg: 2.16 },
      },
      note: '',
    }),
  );
  accept(
    await addGrade(steward, {
      name: 'Yard caps',
      polymer: 'HDPE',
      isPostConsumer: true,
      sheetTitle: 'The yard’s own sheet on bottle caps',
      sheetDate: '2025-05-10',
      isHalogenated: false,
      fillerPercent: 0,
      figures: { ...NOT_SAID, dryingC: 60, dryingHours: 2 },
      note: 'Washed at 60 °C and rinsed twice, floated, passed over a magnet. Liners may be left in. Batch 3.',
    }),
  );
}
