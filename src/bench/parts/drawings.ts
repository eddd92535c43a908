const files = import.meta.glob<string>('../../../assets/drawings/*.svg', {
  query: '?raw',
  import: 'default',
  eager: true,
});

/** Every drawing by its file name. In a file of its own, so that it is fetched with the first job and not with the app. */
export const drawings: ReadonlyMap<string, string> = new Map(
  Object.entries(files).map(([path, text]) => [path.split('/').at(-1) ?? path, text]),
);
