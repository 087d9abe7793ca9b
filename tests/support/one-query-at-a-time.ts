/**
 * A transaction's connection does one thing at a time. `pg` still queues what comes meanwhile, but only warns, once:
 * here that warning is a fault, whichever test brings it about.
 */
process.on('warning', (warning) => {
  if (warning.message.startsWith('Calling client.query() when the client is already executing'))
    throw warning;
});
