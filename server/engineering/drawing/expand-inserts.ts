import { DrawingRefused } from './drawing-refusal.js';
import { type DxfBlock, type DxfDocument, type DxfEntity, nameKey } from './dxf-document.js';
import { EntityFields } from './entity-fields.js';
import { MIRRORED, type Placement, scaled, shifted, turned, within } from './placement.js';

/** More than any drawing of a plate; a bomb of blocks in blocks is refused before it is unfolded. */
const MOST_ENTITIES = 200_000;
/** Blocks in blocks deeper than this are a mistake. */
const DEEPEST_NESTING = 64;

/** An entity where it is drawn, on the layer that counts for it. */
export type Visit = (entity: DxfEntity, layer: string, placement: Placement) => void;

/**
 * Unfolds blocks into the entities they stand for: moved to their base point, scaled, turned, repeated in rows and
 * columns (DXF reference, INSERT). Layer 0 inside a block takes the layer of the INSERT; a frozen INSERT shows nothing.
 * @throws DrawingRefused `drawing-block-nested-in-itself`, `drawing-blocks-too-deep`, `drawing-too-many-entities`,
 * `drawing-block-missing`
 */
export function expandInserts(
  document: DxfDocument,
  whole: Placement,
  isFrozen: (layer: string) => boolean,
  visit: Visit,
): void {
  refuseEndless(document);
  const walk = (entities: readonly DxfEntity[], inherited: string, placement: Placement): void => {
    for (const entity of entities) {
      const layer = entity.layer === '0' ? inherited : entity.layer;
      if (entity.type !== 'INSERT' || entity.paperSpace || isFrozen(layer)) {
        visit(entity, layer, placement);
        continue;
      }
      const fields: EntityFields = new EntityFields(entity, layer);
      const block = blockOf(document, entity);
      if (!block) fields.refuse({ code: 'drawing-block-missing', block: fields.text(2) });
      for (const inner of insertPlacements(fields, block))
        walk(block.entities, layer, within(placement, inner));
    }
  };
  walk(document.entities, '0', whole);
}

function blockOf(document: DxfDocument, insert: DxfEntity): DxfBlock | undefined {
  return document.blocks.get(nameKey(new EntityFields(insert, insert.layer).text(2)));
}

function* insertPlacements(fields: EntityFields, block: DxfBlock): Generator<Placement> {
  const facing = fields.facing() < 0 ? MIRRORED : scaled(1);
  const at = shifted(fields.number(10, 0), fields.number(20, 0));
  const turn = turned(fields.number(50, 0));
  const size = within(
    scaled(fields.number(41, 1), fields.number(42, 1)),
    shifted(-block.base.x, -block.base.y),
  );
  const { columns, rows } = repeats(fields);
  const [dx, dy] = [fields.number(44, 0), fields.number(45, 0)];
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      const turnedStep = within(turn, within(shifted(column * dx, row * dy), size));
      yield within(facing, within(at, turnedStep));
    }
  }
}

function repeats(fields: EntityFields): { columns: number; rows: number } {
  return {
    columns: Math.max(1, Math.floor(fields.number(70, 1))),
    rows: Math.max(1, Math.floor(fields.number(71, 1))),
  };
}

/** Counts what unfolding would make, block by block, so that nothing endless is ever begun. */
function refuseEndless(document: DxfDocument): void {
  const counted = new Map<DxfBlock, number>();
  const open: DxfBlock[] = [];
  const countOf = (entities: readonly DxfEntity[]): number => {
    let total = entities.length;
    for (const entity of entities) {
      if (entity.type !== 'INSERT') continue;
      const block = blockOf(document, entity);
      if (!block) continue;
      const { columns, rows } = repeats(new EntityFields(entity, entity.layer));
      total += columns * rows * (1 + countOfBlock(block));
    }
    return total;
  };
  const countOfBlock = (block: DxfBlock): number => {
    const known = counted.get(block);
    if (known !== undefined) return known;
    if (open.includes(block)) {
      throw new DrawingRefused([{ code: 'drawing-block-nested-in-itself', block: block.name }]);
    }
    if (open.length >= DEEPEST_NESTING) {
      throw new DrawingRefused([
        { code: 'drawing-blocks-too-deep', block: block.name, limit: DEEPEST_NESTING },
      ]);
    }
    open.push(block);
    const count = countOf(block.entities);
    open.pop();
    counted.set(block, count);
    return count;
  };
  const total = countOf(document.entities);
  if (total > MOST_ENTITIES) {
    throw new DrawingRefused([{ code: 'drawing-too-many-entities', value: total, limit: MOST_ENTITIES }]);
  }
}
