// Asks the browser to keep what is stored, and says honestly what it answered.
export async function keepAsking(): Promise<"kept" | "may be cleared" | "unknown"> {
  if (!navigator.storage?.persist) return "unknown";
  const already = await navigator.storage.persisted();
  return already || (await navigator.storage.persist()) ? "kept" : "may be cleared";
}
