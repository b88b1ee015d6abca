package harness

import (
	"bytes"
	"fmt"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"
)

// lineIndex says on which line each key of a TOML file stands:
// "device[1].dpi" → 14. The decoder reports lines only for faults of its own.
func lineIndex(data []byte) map[string]int {
	lines := map[string]int{}
	counts := map[string]int{}
	prefix := ""
	at, newlines := 0, 0 // in front of at; keys come in the order of the file
	p := unstable.Parser{}
	p.Reset(data)
	for p.NextExpression() {
		e := p.Expression()
		var keys []string
		line := 0
		for it := e.Key(); it.Next(); {
			keys = append(keys, string(it.Node().Data))
			if from := int(it.Node().Raw.Offset); line == 0 {
				newlines += bytes.Count(data[at:from], []byte("\n"))
				at, line = from, newlines+1
			}
		}
		key := strings.Join(keys, ".")
		switch e.Kind {
		case unstable.Table:
			prefix = key + "."
			lines[key] = line
		case unstable.ArrayTable:
			key = fmt.Sprintf("%s[%d]", key, counts[key])
			counts[strings.Join(keys, ".")]++
			prefix = key + "."
			lines[key] = line
		case unstable.KeyValue:
			lines[prefix+key] = line
		}
	}
	return lines
}
