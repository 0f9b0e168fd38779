/** The bare server that everything is compared with: fastify, one JSON reply. */
import Fastify from 'fastify';

const app = Fastify();
app.get('/', () => ({ hello: 'world' }));
console.log(await app.listen({ host: '127.0.0.1', port: 0 }));
process.once('SIGTERM', () => void app.close());
