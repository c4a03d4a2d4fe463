import type { DeviceId, Instant } from '../../shared-types/brand.ts';
import type { Hello, Status } from '../../shared-types/wire/from-screen.ts';
import type { ScreenInfo } from '../../shared-types/wire/from-server.ts';

interface ScreenReport {
  readonly screen: ScreenInfo;
  readonly reportedAt: Instant | null;
}

/** Which screens are connected, and what they last said of themselves. */
export class Screens {
  /** By socket. */
  readonly #screens = new Map<string, ScreenInfo>();
  /** When each last reported, by socket, on the pool's clock. */
  readonly #reportedAt = new Map<string, Instant>();

  greet(socket: string, { device, role }: Hello): void {
    const known = this.#screens.get(socket);
    this.#screens.set(socket, { syncBoundMs: null, width: null, height: null, ...known, device, role });
  }

  report(socket: string, { syncBoundMs, width, height, readableToM, seenFromM }: Status, now: Instant): void {
    const known = this.#screens.get(socket);
    if (!known) return;
    const readable = readableToM === undefined ? {} : { readableToM };
    const seen = seenFromM === undefined ? {} : { seenFromM };
    this.#screens.set(socket, { ...known, syncBoundMs, width, height, ...readable, ...seen });
    this.#reportedAt.set(socket, now);
  }

  leave(socket: string): void {
    this.#screens.delete(socket);
    this.#reportedAt.delete(socket);
  }

  of(socket: string): ScreenInfo | undefined {
    return this.#screens.get(socket);
  }

  /** The sockets by which a wall is connected: one it has lost may still be among them. */
  wallSockets(device: DeviceId): string[] {
    return [...this.#screens].flatMap(([socket, screen]) =>
      screen.device === device && screen.role === 'wall' ? [socket] : [],
    );
  }

  /** One a device: one that has just come back may still be there with the socket it lost. */
  list(): ScreenInfo[] {
    return this.reports().map(({ screen }) => screen);
  }

  /** The same, with when each last reported, on the pool's clock (null before its first report). */
  reports(): ScreenReport[] {
    const reports = [...this.#screens].map(([socket, screen]): [DeviceId, ScreenReport] => {
      return [screen.device, { screen, reportedAt: this.#reportedAt.get(socket) ?? null }];
    });
    return [...new Map(reports).values()];
  }
}
