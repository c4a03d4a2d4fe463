import { signedTenths } from '../../shared-types/time.ts';
import type { SetKind, SwumOnce } from '../../shared-types/wire/history.ts';
import type { SeasonRow } from './season-figures.ts';

/** A set in words, from its signature: what stands behind its style. */
export const kindWords = ({ signature, style }: Pick<SetKind, 'signature' | 'style'>): string =>
  signature.startsWith(`${style}: `) ? signature.slice(style.length + 2) : signature;

/** `swum 4 times by 12 swimmers`. */
export function oftenWords({ occurrences, swimmers }: Pick<SetKind, 'occurrences' | 'swimmers'>): string {
  const often = occurrences === 1 ? 'once' : `${occurrences} times`;
  return `swum ${often} by ${swimmers} ${swimmers === 1 ? 'swimmer' : 'swimmers'}`;
}

/** `8 x 50`, `8x50` and `8 × 50` find the same. */
const plain = (text: string): string => text.toLowerCase().replace(/(\d)\s*[x×]\s*(?=\d)/g, '$1x');

/** Those in which every typed word is found. */
export function kindsLike(kinds: readonly SetKind[], typed: string): readonly SetKind[] {
  const words = plain(typed)
    .split(/\s+/)
    .filter((word) => word !== '');
  return kinds.filter(({ signature, style }) => {
    const text = plain(`${style} ${signature}`);
    return words.every((word) => text.includes(word));
  });
}

/** What a strict signature has beyond the loose one: `@ 1:00, at 200 pace`. */
export function sendOffWords(strict: string, loose: string): string {
  return strict.startsWith(`${loose}; `) ? strict.slice(loose.length + 2).replaceAll('; ', ', ') : strict;
}

/** How it was sent off and swum once; of a squad each way of it. */
export const rowSendOffs = ({ swum }: SeasonRow, loose: string): string[] => [
  ...new Set(swum.map(({ strict }) => sendOffWords(strict, loose))),
];

/** `22 of 24`, of all together; `0 of 8, 3 in part`: of these the paced part alone was timed, and judged. */
export function timedWords(swum: readonly Pick<SwumOnce, 'timed' | 'reps' | 'judged'>[]): string {
  const timed = sum(swum.map((own) => own.timed));
  const inPart = sum(swum.map((own) => Math.max(0, own.judged - own.timed)));
  return `${timed} of ${sum(swum.map(({ reps }) => reps))}${inPart === 0 ? '' : `, ${inPart} in part`}`;
}

/** `6 of 8`; null where nothing was to be held. */
export function heldWords({ swum }: SeasonRow): string | null {
  const [hits, judged] = [sum(swum.map((own) => own.hits)), sum(swum.map((own) => own.judged))];
  return judged === 0 ? null : `${hits} of ${judged}`;
}

const sum = (values: readonly number[]): number => values.reduce((all, value) => all + value, 0);

/** `−0.4`: seconds; with a minus it was faster. */
export const changeText = ({ change }: SeasonRow): string | null => change && signedTenths(change.ms / 1000);
