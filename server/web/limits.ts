/** How much anybody may ask of the server. What a pool with a dozen devices does is a tenth of it. */
export interface Limits {
  /** Messages of one socket and of all sockets of an address, a second. What comes faster waits, and its sender with it. */
  readonly messagesOfSocket: number;
  readonly messagesOfAddress: number;
  /** Messages of one socket that wait; with more it is cut off. */
  readonly messagesWaiting: number;
  /** Sockets open at a time from one address. */
  readonly socketsOfAddress: number;
  /** Connections open at a time from one address, sockets among them. */
  readonly connectionsOfAddress: number;
  /** Requests in three seconds, of a paired device, which wait beyond that, and of an address that is not paired. */
  readonly requestsOfDevice: number;
  readonly requestsOfStranger: number;
  /** Requests of a device that wait; more are refused. */
  readonly requestsWaiting: number;
}

export const LIMITS: Limits = {
  messagesOfSocket: 200,
  messagesOfAddress: 600,
  messagesWaiting: 3000,
  socketsOfAddress: 40,
  connectionsOfAddress: 160,
  requestsOfDevice: 300,
  requestsOfStranger: 150,
  requestsWaiting: 50,
};

const KB = 1024;
const MB = 1024 * KB;

/** Room for what pages send; what may be larger is named below. Bytes. */
export const MOST_BODY_BYTES = 64 * KB;

/** By route. JSON may write a character in six bytes. */
export const LARGER_BODIES: Readonly<Record<string, number>> = {
  'PUT /api/squad': 8 * MB,
  'POST /api/preview/squad': 8 * MB,
  'PUT /api/squad/lanes': MB,
  'PUT /api/squad/swimmers/:id': MB,
  'POST /api/preview': 2 * MB,
  'PUT /api/practices/:id': 2 * MB,
};
