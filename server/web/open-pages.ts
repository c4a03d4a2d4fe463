import type { PairedId } from '../../shared-types/brand.ts';

/** Which sockets each paired device has open: a page is one. */
export class OpenPages {
  readonly #sockets = new Map<PairedId, Set<string>>();

  opened(device: PairedId, socket: string): void {
    const open = this.#sockets.get(device) ?? new Set();
    this.#sockets.set(device, open.add(socket));
  }

  closed(device: PairedId, socket: string): void {
    const open = this.#sockets.get(device);
    open?.delete(socket);
    if (open?.size === 0) this.#sockets.delete(device);
  }

  of(device: PairedId): string[] {
    return [...(this.#sockets.get(device) ?? [])];
  }

  openOf(device: PairedId): number {
    return this.#sockets.get(device)?.size ?? 0;
  }
}
