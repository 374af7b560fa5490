// A second copy of what is kept, among the origin's private files. A browser that dies at a bad moment may come back without its
// database; what is missing there is then brought back from here. A browser without such files keeps the one copy.

export type Kind = "job" | "beside" | "photo";

/** What a copy says of the thing, and the thing. */
export interface Copy<Head> {
  name: string;
  head: Head;
  body: Blob;
}

/** Ends the name of every copy; the browser leaves its half-written files beside them under other endings. */
const END = ".copy";

const fileOf = (name: string): string => encodeURIComponent(name) + END;

async function folder(kind: Kind): Promise<FileSystemDirectoryHandle | undefined> {
  const root = await navigator.storage?.getDirectory?.().catch(() => undefined);
  return root?.getDirectoryHandle(kind, { create: true });
}

/** Keeps a copy: a line that says what it is, then the thing itself. The one before stands until this one is whole. */
export async function keep(kind: Kind, name: string, head: object, body: string | Blob): Promise<void> {
  try {
    const file = await (await folder(kind))?.getFileHandle(fileOf(name), { create: true });
    const out = await file?.createWritable();
    await out?.write(new Blob([JSON.stringify(head), "\n", body]));
    await out?.close();
  } catch {
    // The database has it: a copy for which there is no room takes nothing away.
  }
}

/** Lets a copy go, before the thing itself goes: what is left here alone would be brought back. */
export async function drop(kind: Kind, name: string): Promise<void> {
  try {
    await (await folder(kind))?.removeEntry(fileOf(name));
  } catch (error) {
    if (!(error instanceof DOMException && error.name === "NotFoundError")) throw error;
  }
}

/** Copies of things that the database does not know. What was left half-written is cleared away. */
export async function missing<Head>(kind: Kind, known: Set<string>): Promise<Copy<Head>[]> {
  const here = await folder(kind);
  const found: Copy<Head>[] = [];
  for await (const [entry, handle] of here?.entries() ?? []) {
    if (!entry.endsWith(END)) {
      // In use by another window, it stays.
      await here?.removeEntry(entry).catch(() => undefined);
      continue;
    }
    const name = decodeURIComponent(entry.slice(0, -END.length));
    const copy = !known.has(name) && handle instanceof FileSystemFileHandle && (await read<Head>(name, await handle.getFile()));
    if (copy) found.push(copy);
  }
  return found;
}

/** A copy as `keep` wrote it; none where it was cut off while it was first written. */
async function read<Head>(name: string, file: File): Promise<Copy<Head> | undefined> {
  const end = new Uint8Array(await file.arrayBuffer()).indexOf("\n".charCodeAt(0));
  return end < 0 ? undefined : { name, head: JSON.parse(await file.slice(0, end).text()) as Head, body: file.slice(end + 1) };
}
