package intake

import (
	"bytes"
	"encoding/json"
	"fmt"
	"net/url"
	"strings"
)

// writeMetadata writes a metadata file, a column a line.
func writeMetadata(title string, guesses []guess) []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "{\n  \"@context\": [\"http://www.w3.org/ns/csvw\", {\"@language\": \"en\"}],\n  \"dc:title\": %s,\n  \"tables\": [", jsonText(title))
	for i, g := range guesses {
		if i > 0 {
			b.WriteByte(',')
		}
		fmt.Fprintf(&b, "\n    {\n      \"url\": %s,\n", jsonText(url.PathEscape(g.file)))
		var dialect []string
		if g.skip > 0 {
			dialect = append(dialect, fmt.Sprintf(`"skipRows": %d`, g.skip))
		}
		if g.delimiter != "" {
			dialect = append(dialect, `"delimiter": `+jsonText(g.delimiter))
		}
		if g.encoding != "" {
			dialect = append(dialect, `"encoding": `+jsonText(g.encoding))
		}
		if dialect != nil {
			fmt.Fprintf(&b, "      \"dialect\": {%s},\n", strings.Join(dialect, ", "))
		}
		b.WriteString("      \"tableSchema\": {\n        \"columns\": [\n")
		for _, c := range g.columns {
			fmt.Fprintf(&b, "          {\"titles\": %s", jsonText(c.title))
			if c.property != "" {
				fmt.Fprintf(&b, ", \"propertyUrl\": %s", jsonText("ms:"+c.property))
			}
			b.WriteString("},\n")
		}
		class := "ms:Marker"
		if g.kind.holdsRecords() {
			class = "ms:ServiceRecord"
		}
		fmt.Fprintf(&b, "          {\"virtual\": true, \"propertyUrl\": \"rdf:type\", \"valueUrl\": %s}\n        ]\n      }\n    }", jsonText(class))
	}
	if len(guesses) > 0 {
		b.WriteString("\n  ")
	}
	b.WriteString("]\n}\n")
	return b.Bytes()
}

// jsonText writes a text as JSON.
func jsonText(s string) string {
	var b strings.Builder
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(s); err != nil {
		panic(err) // a text always encodes
	}
	return strings.TrimSuffix(b.String(), "\n")
}
