package face

import (
	"encoding/binary"
	"strings"
)

// readPost gives the names of glyphs (OpenType, "post", versions 1 and 2); nil
// where the face has none.
func readPost(b []byte, glyphs int) []string {
	if len(b) < 32 {
		return nil
	}
	switch binary.BigEndian.Uint32(b) {
	case 0x00010000:
		names := make([]string, glyphs)
		copy(names, macNames)
		return names
	case 0x00020000:
		return postVersion2(b[32:], glyphs)
	}
	return nil
}

func postVersion2(b []byte, glyphs int) []string {
	if len(b) < 2 {
		return nil
	}
	n := min(int(binary.BigEndian.Uint16(b)), glyphs, (len(b)-2)/2)
	own := make([]string, 0, n)
	for rest := string(b[2+2*n:]); rest != ""; { // one string, of which names are pieces
		size := int(rest[0])
		if size >= len(rest) {
			break
		}
		own = append(own, rest[1:1+size])
		rest = rest[1+size:]
	}
	names := make([]string, glyphs)
	for i := range n {
		switch id := int(binary.BigEndian.Uint16(b[2+2*i:])); {
		case id < len(macNames):
			names[i] = macNames[id]
		case id-len(macNames) < len(own):
			names[i] = own[id-len(macNames)]
		}
	}
	return names
}

// macNames are the 258 names of the standard Macintosh glyph order (OpenType,
// "post", version 1).
var macNames = strings.Fields(`
.notdef .null nonmarkingreturn space exclam quotedbl numbersign dollar percent ampersand quotesingle
parenleft parenright asterisk plus comma hyphen period slash zero one two three four five six seven
eight nine colon semicolon less equal greater question at A B C D E F G H I J K L M N O P Q R S T U V
W X Y Z bracketleft backslash bracketright asciicircum underscore grave a b c d e f g h i j k l m n o
p q r s t u v w x y z braceleft bar braceright asciitilde Adieresis Aring Ccedilla Eacute Ntilde
Odieresis Udieresis aacute agrave acircumflex adieresis atilde aring ccedilla eacute egrave
ecircumflex edieresis iacute igrave icircumflex idieresis ntilde oacute ograve ocircumflex odieresis
otilde uacute ugrave ucircumflex udieresis dagger degree cent sterling section bullet paragraph
germandbls registered copyright trademark acute dieresis notequal AE Oslash infinity plusminus
lessequal greaterequal yen mu partialdiff summation product pi integral ordfeminine ordmasculine
Omega ae oslash questiondown exclamdown logicalnot radical florin approxequal Delta guillemotleft
guillemotright ellipsis nonbreakingspace Agrave Atilde Otilde OE oe endash emdash quotedblleft
quotedblright quoteleft quoteright divide lozenge ydieresis Ydieresis fraction currency guilsinglleft
guilsinglright fi fl daggerdbl periodcentered quotesinglbase quotedblbase perthousand Acircumflex
Ecircumflex Aacute Edieresis Egrave Iacute Icircumflex Idieresis Igrave Oacute Ocircumflex apple
Ograve Uacute Ucircumflex Ugrave dotlessi circumflex tilde macron breve dotaccent ring cedilla
hungarumlaut ogonek caron Lslash lslash Scaron scaron Zcaron zcaron brokenbar Eth eth Yacute yacute
Thorn thorn minus multiply onesuperior twosuperior threesuperior onehalf onequarter threequarters
franc Gbreve gbreve Idotaccent Scedilla scedilla Cacute cacute Ccaron ccaron dcroat`)
