package telegram

import (
	"html"
	"strings"
	"unicode/utf16"
	"unicode/utf8"
)

// longestText is the server's limit for a message, in UTF-16 units.
const longestText = 4096

// split cuts HTML into parts that fit a message, at line ends. Bold type that goes on
// over a cut is closed and opened again; a single line that is too long loses its
// tags and is cut between words.
func split(text string) []string {
	if units(text) <= longestText {
		return []string{text}
	}
	const room = longestText - len("<b></b>")
	var parts []string
	part := ""
	for _, line := range strings.Split(text, "\n") {
		for units(line) > room {
			var head string
			if head, line = cutLine(line); part != "" {
				parts, part = append(parts, part), ""
			}
			parts = append(parts, head)
		}
		switch {
		case part == "":
			part = line
		case units(part)+1+units(line) > room:
			parts, part = append(parts, part), line
		default:
			part += "\n" + line
		}
	}
	if strings.TrimSpace(part) != "" {
		parts = append(parts, part)
	}
	return closeBold(parts)
}

// closeBold makes each part well formed by itself.
func closeBold(parts []string) []string {
	open := false
	for i, part := range parts {
		if open {
			part = "<b>" + part
		}
		ends := strings.Count(part, "</b>")
		if open = strings.Count(part, "<b>") > ends; open {
			part += "</b>"
		}
		parts[i] = strings.TrimPrefix(part, "<b></b>")
	}
	return parts
}

// cutLine takes as much of a line as surely fits, up to a blank where there is one.
func cutLine(line string) (head, rest string) {
	plain := plainOf(line)
	n, size := 0, 0
	for i, r := range plain {
		w := utf16.RuneLen(r)
		if r == '&' || r == '<' || r == '>' || r == '"' {
			w = 6
		}
		if size+w > longestText-len("<b></b>") {
			break
		}
		size, n = size+w, i+utf8.RuneLen(r)
	}
	if blank := strings.LastIndexByte(plain[:n], ' '); blank > n/2 {
		n = blank
	}
	return html.EscapeString(plain[:n]), html.EscapeString(strings.TrimSpace(plain[n:]))
}

var tags = strings.NewReplacer("<b>", "", "</b>", "")

// plainOf is our HTML as plain text.
func plainOf(text string) string { return html.UnescapeString(tags.Replace(text)) }

func escape(s string) string { return html.EscapeString(s) }

func units(s string) int {
	n := 0
	for _, r := range s {
		n += utf16.RuneLen(r)
	}
	return n
}

// short cuts a plain text to n UTF-16 units.
func short(s string, n int) string {
	if units(s) <= n {
		return s
	}
	size := 1 // the ellipsis
	for i, r := range s {
		if size += utf16.RuneLen(r); size > n {
			return strings.TrimSpace(s[:i]) + "…"
		}
	}
	return s
}

func firstLine(s string) string {
	line, _, _ := strings.Cut(s, "\n")
	return line
}
