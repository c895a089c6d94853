// What outlives a reload and a restart: points in this tab, the photo in this browser alone.

const place = () => `photo:${location.host}`;
const NEAR_ENOUGH = 12.5e6; // pixels kept of a photo: no click is finer, and phones hold no more

export function recall() {
  try {
    return JSON.parse(sessionStorage.getItem(place()) ?? "null");
  } catch {
    return null;
  }
}

export function keep(state) {
  try {
    sessionStorage.setItem(place(), JSON.stringify(state));
  } catch {
    // A full store: the points stay on the leaf, they only do not outlive it.
  }
}

function store(mode, work) {
  return new Promise((resolve) => {
    let asked;
    try {
      asked = indexedDB.open("foamwright-photo", 1);
    } catch {
      resolve(undefined);
      return;
    }
    asked.onupgradeneeded = () => asked.result.createObjectStore("photo");
    asked.onerror = () => resolve(undefined);
    asked.onsuccess = () => {
      const base = asked.result;
      const deal = base.transaction("photo", mode);
      const found = work(deal.objectStore("photo"));
      deal.oncomplete = () => { resolve(found.result); base.close(); };
      deal.onabort = () => { resolve(undefined); base.close(); };
    };
  });
}

export const keepPhoto = (blob, id) =>
  store("readwrite", (photos) => photos.put({ blob, id }, "last"));
export const recallPhoto = () => store("readonly", (photos) => photos.get("last"));

// Turn a chosen file upright, and into something of a size that can be kept; null if it is none.
export async function pictureOf(file) {
  let bitmap;
  try {
    bitmap = await createImageBitmap(file);
  } catch {
    return null;
  }
  const less = Math.min(1, Math.sqrt(NEAR_ENOUGH / (bitmap.width * bitmap.height)));
  const canvas = document.createElement("canvas");
  canvas.width = Math.round(bitmap.width * less);
  canvas.height = Math.round(bitmap.height * less);
  canvas.getContext("2d").drawImage(bitmap, 0, 0, canvas.width, canvas.height);
  bitmap.close();
  const blob = await new Promise((done) => { canvas.toBlob(done, "image/jpeg", 0.95); });
  return blob && { blob, width: canvas.width, height: canvas.height };
}
