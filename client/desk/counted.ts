/** `1 swimmer`, `24 swimmers`. */
export const counted = (count: number, one: string, more = `${one}s`): string => `${count} ${count === 1 ? one : more}`;
