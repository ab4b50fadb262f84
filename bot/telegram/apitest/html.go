package apitest

import (
	"fmt"
	"html"
	"slices"
	"strings"
	"unicode/utf16"
)

// plainOf parses Telegram's HTML the way the server does: known tags, closed in
// order; the three signs only as entities. It gives the text that people see.
func plainOf(s string) (string, error) {
	known := []string{"b", "strong", "i", "em", "u", "ins", "s", "strike", "del", "code", "pre", "a", "tg-spoiler", "blockquote"}
	var out strings.Builder
	var open []string
	for len(s) > 0 {
		i := strings.IndexAny(s, "<&")
		if i < 0 {
			out.WriteString(s)
			break
		}
		out.WriteString(s[:i])
		s = s[i:]
		if s[0] == '&' {
			end := strings.IndexByte(s, ';')
			if end > 0 && end < 10 && html.UnescapeString(s[:end+1]) != s[:end+1] {
				out.WriteString(html.UnescapeString(s[:end+1]))
				s = s[end+1:]
				continue
			}
			out.WriteByte('&')
			s = s[1:]
			continue
		}
		end := strings.IndexByte(s, '>')
		if end < 0 {
			return "", fmt.Errorf("can't parse entities: unclosed start tag")
		}
		tag := s[1:end]
		s = s[end+1:]
		name, closing := strings.CutPrefix(tag, "/")
		name, _, _ = strings.Cut(name, " ")
		switch {
		case !slices.Contains(known, name):
			return "", fmt.Errorf("can't parse entities: unsupported start tag %q", name)
		case !closing:
			open = append(open, name)
		case len(open) == 0 || open[len(open)-1] != name:
			return "", fmt.Errorf("can't parse entities: unmatched end tag %q", name)
		default:
			open = open[:len(open)-1]
		}
	}
	if len(open) > 0 {
		return "", fmt.Errorf("can't parse entities: can't find end tag %q", open[len(open)-1])
	}
	return strings.TrimSpace(out.String()), nil
}

func units(s string) int { return len(utf16.Encode([]rune(s))) }
