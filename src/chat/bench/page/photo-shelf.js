// Photos that wait for contact, kept on this device under the id of their message; in the page alone where it keeps none.

const SHELF = 'chargehand-photos';
const STORE = 'photos';
/** @type {Map<string, Blob>} */
const inPage = new Map();

/** @returns {Promise<IDBDatabase>} */
function open() {
  return new Promise((resolve, reject) => {
    const asked = indexedDB.open(SHELF, 1);
    asked.onupgradeneeded = () => asked.result.createObjectStore(STORE);
    asked.onsuccess = () => resolve(asked.result);
    asked.onerror = () => reject(asked.error);
    asked.onblocked = () => reject(new Error('The shelf for photos is in use by an older page.'));
  });
}

/**
 * @template T
 * @param {IDBTransactionMode} mode
 * @param {(store: IDBObjectStore) => IDBRequest<T>} ask
 * @returns {Promise<T>}
 */
async function on(mode, ask) {
  const shelf = await open();
  try {
    return await new Promise((resolve, reject) => {
      const change = shelf.transaction(STORE, mode, { durability: 'strict' });
      const asked = ask(change.objectStore(STORE));
      change.oncomplete = () => resolve(asked.result);
      change.onabort = () => reject(change.error ?? asked.error);
    });
  } finally {
    shelf.close();
  }
}

/**
 * @param {string} id
 * @param {Blob} photo
 */
export async function keepPhoto(id, photo) {
  inPage.set(id, photo);
  // Bytes, not a Blob: some browsers keep a Blob as a mere name of a file that may go.
  const bytes = await photo.arrayBuffer();
  await on('readwrite', (store) => store.put(bytes, id)).catch(() => undefined);
}

/**
 * @param {string} id
 * @returns {Promise<Blob | undefined>}
 */
export async function keptPhoto(id) {
  const here = inPage.get(id);
  if (here !== undefined) return here;
  const bytes = await on('readonly', (store) => store.get(id)).catch(() => undefined);
  return bytes instanceof ArrayBuffer ? new Blob([bytes], { type: 'image/jpeg' }) : undefined;
}

/** @param {string} id */
export async function dropPhoto(id) {
  inPage.delete(id);
  await on('readwrite', (store) => store.delete(id)).catch(() => undefined);
}
