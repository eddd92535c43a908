// @open-wc/testing imports these three for its snapshot files; the real package opens a web socket to a
// runner that is not here. We use no snapshot files, so each simply says so.
const none = () => Promise.reject(new Error('Snapshot files are not used in this project.'));
export const getSnapshot = none;
export const getSnapshotConfig = none;
export const saveSnapshot = none;
