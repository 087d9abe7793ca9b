import type { DrawingRefusalCode } from './drawing-refusal.js';
import { type DxfDocument, nameKey } from './dxf-document.js';
import { type FeatureLayer, layerMeaning } from './layer-name.js';
import type { DrawingNotice } from './measured-drawing.js';

/** What becomes of the entities of one layer. */
export type LayerStanding =
  | { readonly kind: 'counts'; readonly layer: FeatureLayer }
  | { readonly kind: 'left-out'; readonly code: DrawingNotice['code'] }
  | { readonly kind: 'refused'; readonly code: DrawingRefusalCode };

/** Judges layers by their name and by whether they are frozen or off, each once. */
export function layerStandings(document: DxfDocument): (layer: string) => LayerStanding {
  const known = new Map<string, LayerStanding>();
  return (layer) => {
    const standing = known.get(layer) ?? standingOf(document, layer);
    known.set(layer, standing);
    return standing;
  };
}

export function isFrozen(document: DxfDocument, layer: string): boolean {
  return document.layers.get(nameKey(layer))?.frozen ?? false;
}

function standingOf(document: DxfDocument, name: string): LayerStanding {
  const meaning = layerMeaning(name);
  if (meaning.kind === 'not-a-feature') return { kind: 'left-out', code: 'layer-not-a-feature' };
  if (isFrozen(document, name)) return { kind: 'left-out', code: 'layer-frozen' };
  if (document.layers.get(nameKey(name))?.off) return { kind: 'left-out', code: 'layer-off' };
  if (meaning.kind === 'feature') return { kind: 'counts', layer: meaning.layer };
  const code = meaning.kind === 'unreadable' ? 'drawing-layer-unreadable' : 'drawing-layer-without-depth';
  return { kind: 'refused', code };
}
