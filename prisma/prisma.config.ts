import { defineConfig } from 'prisma/config';

/** Only `prisma generate` reads this; the service itself connects through its own pool and migrates by its own runner. */
export default defineConfig({ schema: 'schema.prisma' });
