# Quarter Turn as an image: the program and its flows, nothing to build, an ordinary user, one writable folder.
FROM node:24-bookworm-slim AS packages
WORKDIR /app
COPY package.json package-lock.json .npmrc ./
# The image brings its own Node, so the packages that carry one are left out.
RUN npm ci --omit=dev --omit=optional --ignore-scripts && npm cache clean --force

FROM node:24-bookworm-slim
ENV HOST=0.0.0.0 PORT=3000 DATA_DIR=/data
WORKDIR /app
COPY --from=packages /app/node_modules ./node_modules
COPY package.json ./
COPY src ./src
COPY flows ./flows
COPY views ./views
RUN mkdir /data && chown node:node /data
USER node
VOLUME /data
EXPOSE 3000
HEALTHCHECK --interval=30s --timeout=3s --start-period=5s \
  CMD ["node", "-e", "fetch(`http://127.0.0.1:${process.env.PORT}/readyz`).then((reply) => process.exit(reply.ok ? 0 : 1), () => process.exit(1))"]
CMD ["node", "src/start.js"]
