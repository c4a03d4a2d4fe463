import type { JSX } from 'preact';
import { encode } from 'uqr';

/** Each dark module as a square of the path. */
const pathOf = (modules: readonly (readonly boolean[])[]): string =>
  modules.flatMap((row, y) => row.flatMap((isDark, x) => (isDark ? [`M${x} ${y}h1v1h-1z`] : []))).join('');

/** A QR code (ISO/IEC 18004) of a text, with the quiet zone of four modules that the standard asks for. */
export function QrCode({ text, label }: { text: string; label: string }): JSX.Element {
  const { data, size } = encode(text, { ecc: 'M', border: 4 });
  return (
    <svg class="qr" viewBox={`0 0 ${size} ${size}`} role="img" aria-label={label} data-qr={text}>
      <path d={pathOf(data)} />
    </svg>
  );
}
