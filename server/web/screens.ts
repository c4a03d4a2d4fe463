import type { Hello, Status } from '../../shared-types/wire/from-screen.ts';
import type { ScreenInfo } from '../../shared-types/wire/from-server.ts';

/** Which screens are connected, and what they last said of themselves. */
export class Screens {
  /** By socket. */
  readonly #screens = new Map<string, ScreenInfo>();

  greet(socket: string, { device, role }: Hello): void {
    const known = this.#screens.get(socket);
    const { syncBoundMs = null, width = null, height = null } = known ?? {};
    this.#screens.set(socket, { device, role, syncBoundMs, width, height });
  }

  report(socket: string, { syncBoundMs, width, height }: Status): void {
    const known = this.#screens.get(socket);
    if (known) this.#screens.set(socket, { ...known, syncBoundMs, width, height });
  }

  leave(socket: string): void {
    this.#screens.delete(socket);
  }

  of(socket: string): ScreenInfo | undefined {
    return this.#screens.get(socket);
  }

  /** One a device: one that has just come back may still be there with the socket it lost. */
  list(): ScreenInfo[] {
    return [...new Map([...this.#screens.values()].map((screen) => [screen.device, screen])).values()];
  }
}
