import type { SwimmerId } from '../../shared-types/brand.ts';
import type { Labels } from '../../shared-types/wire/from-server.ts';

/** @param labels as the server has told them */
export const nameOf = (labels: Labels, swimmer: SwimmerId): string => labels[swimmer] ?? 'Swimmer';
