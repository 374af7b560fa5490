// Asks the browser to keep what is stored, and says honestly what it answered.
export async function keepAsking(): Promise<"kept" | "at risk" | "unknown"> {
  if (!navigator.storage?.persist) return "unknown";
  const already = await navigator.storage.persisted();
  return already || (await navigator.storage.persist()) ? "kept" : "at risk";
}
