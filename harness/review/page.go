package review

import (
	"crypto/sha256"
	"embed"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"io"
	"strings"
)

//go:embed page
var pageFiles embed.FS

// scripts make up the page's one script, in this order.
var scripts = []string{"data", "pixels", "plates", "decide", "folds", "rest", "filters", "contact", "members", "ramp", "word", "loupe", "served", "start"}

var (
	pageHTML = pagePart("page.html")
	pageCSS  = pagePart("page.css")
	pageJS   = pageScript()
)

func pagePart(name string) string {
	b, err := pageFiles.ReadFile("page/" + name)
	if err != nil {
		panic(err) // the file is part of the program
	}
	return string(b)
}

func pageScript() string {
	var sb strings.Builder
	for _, s := range scripts {
		sb.WriteString(pagePart(s + ".js"))
	}
	return sb.String()
}

// pageWay is how the page came to its reader.
type pageWay string

const (
	onDisk   pageWay = "disk"
	onServer pageWay = "served"
)

// policy lets the browser run the page's own style and script and the data
// files beside it, and nothing else.
func (w pageWay) policy() string {
	p := fmt.Sprintf("default-src 'none'; style-src '%s'; script-src '%s' 'self'; base-uri 'none'; form-action 'none'", digest(pageCSS), digest(pageJS))
	if w == onServer {
		p += "; connect-src 'self'"
	}
	return p
}

// writePage puts style, script and head into the page. json.Marshal escapes <, >
// and &, so no name can end the element that holds the head.
func writePage(w io.Writer, h *head, way pageWay) error {
	data, err := json.Marshal(h)
	if err != nil {
		return err
	}
	_, err = strings.NewReplacer("{{policy}}", way.policy(), "{{way}}", string(way), "{{style}}", pageCSS,
		"{{script}}", pageJS, "{{head}}", string(data)).WriteString(w, pageHTML)
	return err
}

func digest(s string) string {
	sum := sha256.Sum256([]byte(s))
	return "sha256-" + base64.StdEncoding.EncodeToString(sum[:])
}
