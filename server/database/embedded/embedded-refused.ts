/** The embedded server cannot be used as things are; the message tells the operator why and what to do. */
export class EmbeddedRefused extends Error {
  override readonly name = 'EmbeddedRefused';
}
