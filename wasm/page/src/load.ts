/** Fetches a file of the page's own. */
export async function load<T>(url: string): Promise<T> {
  const answer = await fetch(url);
  if (!answer.ok) throw new Error(`${url}: ${answer.status}`);
  return answer.json() as Promise<T>;
}
