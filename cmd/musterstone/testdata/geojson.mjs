// Asks check-geojson about a file: prints nothing where it holds to RFC 7946, else what is wrong.
import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'

const { check } = createRequire(process.cwd() + '/')('@placemarkio/check-geojson')
try {
  check(readFileSync(process.argv[2], 'utf8'))
} catch (e) {
  for (const i of e.issues ?? [{ message: String(e) }]) console.log(i.message)
}
