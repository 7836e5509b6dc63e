/** HTTP status for a photo that gave no reading. */
export function statusOfFailure(code: string): number {
  switch (code) {
    case 'file-too-large':
    case 'too-many-pixels':
      return 413;
    case 'not-a-photo':
    case 'wrong-format':
    case 'animated':
      return 415;
    case 'worker-died':
    case 'internal':
      return 500;
    case 'took-too-long':
      return 503;
    default:
      return 422;
  }
}
