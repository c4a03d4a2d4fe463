/** Somebody who presses, and many who are to hear of it. */
export interface Crowd {
  /** @returns how long after the press the last client had the message parsed, ms */
  press(): Promise<number>;
  close(): void;
}

/** A server in a process of its own. */
export interface PushServer {
  crowd(clients: number): Promise<Crowd>;
  end(): Promise<void>;
}
