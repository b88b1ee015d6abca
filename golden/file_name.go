package golden

import (
	"fmt"
	"strings"
)

// FileName makes any name a single safe path element: a glyph's or a face's
// name comes from files nobody vouches for. Letters that differ by case alone
// get different names, for disks that are blind to it: A is "+a".
func FileName(name string) string {
	var sb strings.Builder
	for _, b := range []byte(name) {
		switch {
		case b >= 'a' && b <= 'z', b >= '0' && b <= '9', b == '-', b == '_', b == '.' && sb.Len() > 0:
			sb.WriteByte(b)
		case b >= 'A' && b <= 'Z':
			sb.WriteString("+" + string(b+'a'-'A'))
		default:
			fmt.Fprintf(&sb, "%%%02x", b)
		}
	}
	return sb.String()
}

// NameOf undoes FileName. A name that another program gave its file, such as "A", is
// returned as it is.
func NameOf(file string) string {
	var out []byte
	for i := 0; i < len(file); i++ {
		switch b := file[i]; {
		case b == '+' && i+1 < len(file) && file[i+1] >= 'a' && file[i+1] <= 'z':
			out = append(out, file[i+1]-'a'+'A')
			i++
		case b == '%' && i+2 < len(file) && hexValue[file[i+1]] < 16 && hexValue[file[i+2]] < 16:
			out = append(out, hexValue[file[i+1]]<<4|hexValue[file[i+2]])
			i += 2
		default:
			out = append(out, b)
		}
	}
	return string(out)
}
