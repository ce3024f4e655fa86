// Reads the file named by the first argument with n3 and prints its triples as N-Triples, one a line.
import { readFileSync } from 'node:fs'
import { Parser, Writer } from 'n3'

const [file, format] = process.argv.slice(2)
const quads = new Parser({ format }).parse(readFileSync(file, 'utf8'))
const writer = new Writer({ format: 'N-Triples' })
process.stdout.write(writer.quadsToString(quads))
