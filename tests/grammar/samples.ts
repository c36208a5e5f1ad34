import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';

/** Every `.spring` file below a folder of the repository, as name and text. */
export function springFiles(...folders: string[]): { name: string; text: string }[] {
  return folders.flatMap((folder) =>
    readdirSync(join(import.meta.dirname, '../..', folder), { recursive: true, encoding: 'utf8' })
      .filter((name) => name.endsWith('.spring'))
      .sort()
      .map((name) => ({
        name: `${folder}/${name}`,
        text: readFileSync(join(import.meta.dirname, '../..', folder, name), 'utf8'),
      })),
  );
}

/** The files that the tests of the syntax share: all constructs, and one real appliance. */
export const fixtures = springFiles('tests/grammar/fixtures');
