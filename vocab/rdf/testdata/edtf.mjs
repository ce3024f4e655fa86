// Parses each argument with edtf at level 2 and prints those that it refuses.
import edtf from 'edtf'

for (const text of process.argv.slice(2)) {
  try {
    edtf(text)
  } catch (e) {
    console.log(text, e.message.split('\n')[0])
  }
}
