// The phone's own store. Every version is a step from the one before: entries that wait come along as they are.
const wait = (request) => new Promise((done, failed) => {
  request.onsuccess = () => done(request.result);
  request.onerror = () => failed(request.error);
});

export const STEPS = [
  (db) => {
    db.createObjectStore("about");
    const entries = db.createObjectStore("entries", { keyPath: "sequence" });
    entries.createIndex("waiting", "waiting");
  },
  (db, tx) => {
    db.createObjectStore("drafts", { keyPath: "joint" });
    tx.objectStore("entries").createIndex("joint", "joint");
  },
  (db) => { db.createObjectStore("photos", { keyPath: "digest" }); },
  (db) => { db.createObjectStore("carried", { keyPath: "hash" }); },
];

export const open = (name, steps = STEPS) => new Promise((done, failed) => {
  const request = indexedDB.open(name, steps.length);
  request.onupgradeneeded = (event) => {
    for (const step of steps.slice(event.oldVersion)) step(request.result, request.transaction);
  };
  request.onsuccess = () => {
    // A newer page in another tab wants to go on: let it, this one reads no more.
    request.result.onversionchange = () => { request.result.close(); dispatchEvent(new Event("shelf-closed")); };
    done(new Shelf(request.result));
  };
  request.onerror = () => failed(request.error);
});

class Shelf {
  constructor(db) { this.db = db; }

  // Done means on the disk: the transaction is complete, with strict durability, or it is an error.
  change(stores, work) {
    return new Promise((done, failed) => {
      const tx = this.db.transaction(stores, "readwrite", { durability: "strict" });
      let result;
      tx.oncomplete = () => done(result);
      tx.onabort = () => failed(tx.error ?? new Error("not kept"));
      try { result = work(tx); } catch (error) {
        tx.abort(); // or what was asked for before it would be kept
        failed(error);
      }
    });
  }

  get(store, key) { return wait(this.db.transaction(store).objectStore(store).get(key)); }
  put(store, value, key) { return this.change([store], (tx) => { tx.objectStore(store).put(value, key); }); }
  remove(store, key) { return this.change([store], (tx) => { tx.objectStore(store).delete(key); }); }
  all(store, index, key, most) {
    const from = this.db.transaction(store).objectStore(store);
    return wait((index ? from.index(index) : from).getAll(key, most));
  }
  keys(store) { return wait(this.db.transaction(store).objectStore(store).getAllKeys()); }
  count(store, index, key) { return wait(this.db.transaction(store).objectStore(store).index(index).count(key)); }
  async last() {
    const cursor = await wait(this.db.transaction("entries").objectStore("entries").openCursor(null, "prev"));
    return cursor ? cursor.value : null;
  }
  close() { this.db.close(); }
}
