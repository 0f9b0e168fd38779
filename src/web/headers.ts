/** The security headers, the same on every response, errors and assets included. */
import type { FastifyInstance } from 'fastify';

const contentSecurityPolicy = [
  "default-src 'none'",
  "style-src 'self'",
  "script-src 'self'",
  "img-src 'self' data:",
  "connect-src 'self'",
  "form-action 'self'",
  "base-uri 'none'",
  "frame-ancestors 'none'",
].join('; ');

/**
 * Header names and values as sent. There is no HSTS and no upgrade-insecure-requests: plain http on the network of a
 * band room is a real case, and either of them would leave the page without its style and the form without its target.
 * The referrer stays within the site rather than nowhere, because browsers send `Origin: null` with a form otherwise.
 */
export const securityHeaders: Readonly<Record<string, string>> = Object.freeze({
  'content-security-policy': contentSecurityPolicy,
  'x-content-type-options': 'nosniff',
  'referrer-policy': 'same-origin',
  'cross-origin-opener-policy': 'same-origin',
  'cross-origin-resource-policy': 'same-origin',
});

/** No page asks for a device. */
const noDevices = { 'permissions-policy': 'camera=(), geolocation=(), microphone=()' } as const;

/** But the pages of a run may ask for the microphone, and do when a person taps “Listen”. */
export const listeningPolicy = {
  'permissions-policy': 'camera=(), geolocation=(), microphone=(self)',
} as const;

/**
 * Puts the security headers on every response, and `no-store` on each that says nothing about caching.
 * @param app the root instance, before any route
 */
export function addSecurityHeaders(app: FastifyInstance): void {
  app.addHook('onSend', (_request, reply, payload, done) => {
    reply.headers(securityHeaders);
    if (!reply.hasHeader('permissions-policy')) reply.headers(noDevices);
    if (!reply.hasHeader('cache-control')) reply.header('cache-control', 'no-store');
    done(null, payload);
  });
}
