// Reads files of one format with n3 and prints their triples as N-Triples, one a line: a file, the format, more files.
import { readFileSync } from 'node:fs'
import { Parser, Writer } from 'n3'

const [file, format, ...more] = process.argv.slice(2)
for (const f of [file, ...more]) {
  const quads = new Parser({ format }).parse(readFileSync(f, 'utf8'))
  process.stdout.write(new Writer({ format: 'N-Triples' }).quadsToString(quads))
}
