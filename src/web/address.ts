/** The address under which a reader knows the server: what links that leave the page are made of. */
import type { FastifyRequest } from 'fastify';
import type { Config } from '../config.ts';

const hostShape = /^(?:[A-Za-z0-9](?:[A-Za-z0-9.-]*[A-Za-z0-9])?|\[[0-9A-Fa-f:]+\])(?::\d{1,5})?$/;

/**
 * The origin: PUBLIC_URL where it is set, else the host that the browser asked for, over plain http as the program speaks
 * it. No header of a proxy is believed, since anybody can send one; behind a proxy PUBLIC_URL says the address.
 *
 * @returns null when the request names no host, or something that is none
 */
export function originOf({ publicUrl }: Config, request: FastifyRequest): string | null {
  if (publicUrl !== null) return publicUrl;
  const { host } = request.headers;
  const isHost = host !== undefined && host.length <= 255 && hostShape.test(host);
  return isHost && URL.canParse(`http://${host}`) ? `http://${host}` : null;
}

/** Whether an origin leads to the very device that asks, and to no other. */
export function isLoopback(origin: string): boolean {
  const { hostname } = new URL(origin);
  return hostname === 'localhost' || hostname === '[::1]' || /^127\.\d+\.\d+\.\d+$/.test(hostname);
}
