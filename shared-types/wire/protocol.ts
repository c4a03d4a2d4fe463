/** Version of everything that travels between a screen and the server; raised when either side would misread the other. */
export const PROTOCOL = 3;

export const ROLES = ['wall', 'deck', 'desk'] as const;
export type Role = (typeof ROLES)[number];

/** A larger message than this, in bytes, is refused by the server; sheets travel by HTTP. */
export const MOST_MESSAGE_BYTES = 64 * 1024;
