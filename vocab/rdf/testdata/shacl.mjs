// Validates the data files (the second argument and those after it) against the shapes (the first), and prints "conforms", or one line for each result: the shape,
// a blank and the focus node.
import { readFileSync } from 'node:fs'
import { Parser } from 'n3'
import dataset from '@rdfjs/dataset'
import dataModel from '@rdfjs/data-model'
import Validator from 'rdf-validate-shacl'

const load = files => dataset.dataset(files.flatMap(f => new Parser({ factory: dataModel }).parse(readFileSync(f, 'utf8'))))

const [shapes, ...data] = process.argv.slice(2)
const report = await new Validator(load([shapes])).validate(load(data))
if (report.conforms) console.log('conforms')
for (const r of report.results) console.log(r.sourceShape?.value, r.focusNode?.value)
