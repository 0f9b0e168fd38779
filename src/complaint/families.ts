/** Entries of the vocabulary that hold for some families of instruments only. */
export type OfFamilies = { readonly families?: readonly string[] | undefined };

/** Whether an entry of the vocabulary holds for the instruments of this family. */
export function isFor(family: string): (entry: OfFamilies) => boolean {
  return ({ families }) => families === undefined || families.includes(family);
}
