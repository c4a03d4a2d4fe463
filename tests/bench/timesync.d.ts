/** What the benchmark uses of timesync 1.0.11, which brings no types. */
declare module 'timesync' {
  export interface Message {
    readonly id: number;
    readonly result?: number;
  }

  export interface TimeSync {
    /** To be replaced: sends to the peer; the promise rejects when there is no answer within `timeout` ms. */
    send(to: string, message: Message, timeout: number): Promise<void>;
    receive(from: string, message: Message): void;
    sync(): Promise<void>;
    /** The time of the peers, ms. */
    now(): number;
  }

  export function create(options: {
    readonly peers: string;
    readonly interval: number;
    readonly delay: number;
    readonly repeat: number;
    readonly timeout: number;
    readonly now: () => number;
  }): TimeSync;
}
