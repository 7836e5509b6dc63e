/** Hands a file to the person. */
export function download(content: Blob, name: string): void {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(content);
  link.download = name;
  link.click();
  // Some browsers fetch the address only after the click has been dealt with.
  setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
}
