/** Hands a file to the browser's downloads. */
export function saveAs(name: string, content: string | Uint8Array<ArrayBuffer>, media: string): void {
  const url = URL.createObjectURL(new Blob([content], { type: media }));
  const link = document.createElement('a');
  link.href = url;
  link.download = name;
  link.click();
  // The download has its own hold on the data by the next turn of the event loop, on a slow device a little later.
  setTimeout(() => URL.revokeObjectURL(url), 10_000);
}

/** Base64 of bytes. */
export function base64(bytes: Uint8Array): string {
  let text = '';
  for (let from = 0; from < bytes.length; from += 8192) {
    text += String.fromCharCode(...bytes.subarray(from, from + 8192));
  }
  return btoa(text);
}
