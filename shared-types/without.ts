/** Each of a union without these fields; `Omit` alone would leave only what all of them share. */
export type Without<T, K extends string> = T extends unknown ? Omit<T, K> : never;
