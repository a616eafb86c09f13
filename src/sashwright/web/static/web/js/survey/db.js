// What this device keeps, in its own database: houses taken along, entries in their order, photographs.

const NAME = "sashwright-survey";
const VERSION = 1;
const STORES = {
  houses: { keyPath: "slug" },
  outbox: { keyPath: "seq", autoIncrement: true },
  pictures: { keyPath: "key" },
  given: { keyPath: "seq", autoIncrement: true },
  facts: { keyPath: "name" },
};

let opening = null;

function open() {
  opening ??= new Promise((done, fail) => {
    const request = indexedDB.open(NAME, VERSION);
    request.onupgradeneeded = () => {
      for (const [name, how] of Object.entries(STORES)) {
        if (!request.result.objectStoreNames.contains(name)) request.result.createObjectStore(name, how);
      }
    };
    request.onsuccess = () => {
      const db = request.result;
      // A newer page wants to change it: let go, and open it anew when it is needed.
      db.onversionchange = db.onclose = () => {
        db.close();
        opening = null;
      };
      done(db);
    };
    request.onerror = () => {
      opening = null;
      fail(request.error);
    };
  });
  return opening;
}

export function ask(request) {
  return new Promise((done, fail) => {
    request.onsuccess = () => done(request.result);
    request.onerror = () => fail(request.error);
  });
}

// All of it or nothing; done when it is on the disk.
export async function transact(names, work, mode = "readwrite") {
  const db = await open();
  return new Promise((done, fail) => {
    const act = db.transaction(names, mode, { durability: "strict" });
    let answer;
    let wrong = null;
    act.oncomplete = () => done(answer);
    act.onabort = () => fail(wrong ?? act.error ?? new Error("The device did not keep it."));
    const stores = Object.fromEntries(names.map((name) => [name, act.objectStore(name)]));
    Promise.resolve(work(stores)).then(
      (value) => {
        answer = value;
      },
      (error) => {
        wrong = error;
        try {
          act.abort();
        } catch {
          fail(error);
        }
      },
    );
  });
}

export function all(name) {
  return transact([name], (stores) => ask(stores[name].getAll()), "readonly");
}

export function one(name, key) {
  return transact([name], (stores) => ask(stores[name].get(key)), "readonly");
}

export async function fact(name, otherwise = null) {
  return (await one("facts", name))?.value ?? otherwise;
}

export function setFact(name, value) {
  return transact(["facts"], ({ facts }) => ask(facts.put({ name, value })));
}
