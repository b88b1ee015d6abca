// Misbehaving is a worker that draws one-pixel glyphs until the key of one
// names a misdeed. It uses as little of the library as it can: the tests start
// it thousands of times.
package main

import (
	"bufio"
	"os"
	"strings"
	"syscall"
	"time"
)

func main() {
	in := bufio.NewReader(os.Stdin)
	if _, err := in.ReadString('\n'); err != nil {
		os.Exit(9)
	}
	os.Stdout.WriteString(`{"name":"misbehaving","version":"1","settings":""}` + "\n")
	for {
		request, err := in.ReadString('\n')
		if err != nil {
			return
		}
		os.Stdout.WriteString(answer(request))
	}
}

func answer(request string) string {
	more := "\n" // which does no harm
	b := "STARTFONT 2.1\nFONT test\nSIZE 8 300 300\nFONTBOUNDINGBOX 1 1 0 0\nCHARS " + count(request) + "\n"
	for _, rest := range strings.Split(request, `"key":"`)[1:] {
		key, _, _ := strings.Cut(rest, `"`)
		deed, _, _ := strings.Cut(key, ".")
		char := func(key, box string) string {
			return "STARTCHAR " + key + "\nENCODING -1\nSWIDTH 500 0\nDWIDTH 2 0\nBBX " + box + "\nBITMAP\n80\nENDCHAR\n"
		}
		switch deed {
		case "exit":
			os.Stderr.WriteString("cannot draw " + key + "\n")
			os.Exit(3)
		case "kill":
			syscall.Kill(os.Getpid(), syscall.SIGKILL)
		case "left":
			os.Stderr.WriteString("no outline of " + key + "\n")
			continue
		case "hang":
			time.Sleep(time.Hour)
		case "open":
			os.Stdout.WriteString(b + char(key, "1 1 0 0"))
			time.Sleep(time.Hour)
		case "half":
			os.Stdout.WriteString(b + "STARTCHAR " + key)
			os.Exit(0)
		case "wrong":
			b += char("somebody-else", "1 1 0 0")
			continue
		case "twice":
			b += char(key, "1 1 0 0")
		case "absurd":
			b += char(key, "1 1 99999 0")
			continue
		case "deep":
			b += char(key, "100000000 100000000 0 0")
			continue
		case "more":
			more = "STARTFONT 2.1\nENDFONT\n"
		case "noise":
			b = "debug: here I am\n" + b
		case "garbage":
			return "\x00\xff\x00 all is lost\nENDFONT\n"
		}
		b += char(key, "1 1 0 0")
	}
	return b + "ENDFONT\n" + more
}

// count is the number of glyphs asked for, in decimal.
func count(request string) string {
	n, digits := strings.Count(request, `"key":"`), ""
	for ; n > 0; n /= 10 {
		digits = string(rune('0'+n%10)) + digits
	}
	return digits
}
