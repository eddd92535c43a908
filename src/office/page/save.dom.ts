interface Picker {
  showSaveFilePicker?(options: {
    suggestedName: string;
  }): Promise<{ createWritable(): Promise<WritableStream> }>;
}

/** Puts an answer into a file: straight onto the disk where the browser can, else by way of its downloads. */
export async function saveStream(response: Response): Promise<string> {
  const named = /filename="([^"]+)"/.exec(response.headers.get('Content-Disposition') ?? '')?.[1] ?? 'jobs';
  const { showSaveFilePicker } = window as Picker;
  if (showSaveFilePicker && response.body && navigator.userActivation?.isActive) {
    const file = await showSaveFilePicker.call(window, { suggestedName: named });
    await response.body.pipeTo(await file.createWritable());
    return named;
  }
  const url = URL.createObjectURL(await response.blob());
  const link = document.createElement('a');
  link.href = url;
  link.download = named;
  link.click();
  // The download has its own hold on the data a little later.
  setTimeout(() => URL.revokeObjectURL(url), 60_000);
  return named;
}
