import { DrawingRefused } from './drawing-refusal.js';

/** Far above any plate drawing; bounds the memory a file can claim before it is understood. */
const LARGEST_FILE_BYTES = 50_000_000;
/** The sentinel every binary DXF opens with (DXF reference, "Binary DXF Files"). */
const BINARY_SENTINEL = 'AutoCAD Binary DXF';
/** Where the header's first variables are: version and code page come at its start. */
const HEADER_BYTES = 65_536;
/** Drawings from this version on are UTF-8 (DXF reference, header variable $ACADVER: AC1021 is R2007). */
const FIRST_UTF8_VERSION = 1021;

/**
 * The text of a DXF file, from bytes in its own code page (before R2007) or UTF-8.
 * @throws DrawingRefused `drawing-empty`, `drawing-too-large`, `drawing-binary`
 */
export function dxfText(dxf: string | Uint8Array): string {
  if (dxf.length > LARGEST_FILE_BYTES) {
    throw new DrawingRefused([{ code: 'drawing-too-large', value: dxf.length, limit: LARGEST_FILE_BYTES }]);
  }
  const opening =
    typeof dxf === 'string' ? dxf.slice(0, HEADER_BYTES) : latin1(dxf.subarray(0, HEADER_BYTES));
  if (opening.startsWith(BINARY_SENTINEL)) throw new DrawingRefused([{ code: 'drawing-binary' }]);
  const text = typeof dxf === 'string' ? dxf : decoderFor(opening).decode(dxf);
  if (text.trim() === '') throw new DrawingRefused([{ code: 'drawing-empty' }]);
  return text.charCodeAt(0) === 0xfeff ? text.slice(1) : text;
}

function latin1(bytes: Uint8Array): string {
  return new TextDecoder('latin1').decode(bytes);
}

function decoderFor(opening: string) {
  const version = /\$ACADVER\s+1\s+AC(\d+)/.exec(opening)?.[1];
  const codePage = /\$DWGCODEPAGE\s+3\s+(\S+)/.exec(opening)?.[1];
  const utf8 = opening.startsWith('\u00ef\u00bb\u00bf') || Number(version ?? 0) >= FIRST_UTF8_VERSION;
  return new TextDecoder(utf8 ? 'utf-8' : encodingOf(codePage ?? ''));
}

/** Encoding labels of the code pages that $DWGCODEPAGE names; western European where it names none. */
function encodingOf(codePage: string): string {
  const number = /(\d+)$/.exec(codePage)?.[1] ?? '';
  if (/^(874|125[0-8])$/.test(number)) return `windows-${number}`;
  return EAST_ASIAN[number] ?? (number === '866' ? 'ibm866' : 'windows-1252');
}

const EAST_ASIAN: { readonly [codePage: string]: string } = {
  '932': 'shift_jis',
  '936': 'gbk',
  '949': 'euc-kr',
  '950': 'big5',
  '1361': 'euc-kr',
};
