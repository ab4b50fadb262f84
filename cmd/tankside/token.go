package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// telegramFlags say how to reach the Bot API. The token is no flag: other users of
// the machine can see flags.
type telegramFlags struct {
	TokenFile string `name:"token-file" env:"TANKSIDE_TOKEN_FILE" placeholder:"PATH" help:"File with the bot's token. Or put the token into TANKSIDE_TOKEN, or into the systemd credential telegram-token."`
	API       string `name:"api-url" env:"TANKSIDE_API_URL" default:"https://api.telegram.org" help:"Address of the Bot API server, if you run your own."`
}

// credential is a file that systemd hands to a service.
func credential(name string) string {
	if folder := os.Getenv("CREDENTIALS_DIRECTORY"); folder != "" {
		return filepath.Join(folder, name)
	}
	return ""
}

// token finds the bot's token. No error of it ever holds the token.
func (f *telegramFlags) token() (string, error) {
	if t := strings.TrimSpace(os.Getenv("TANKSIDE_TOKEN")); t != "" {
		return t, nil
	}
	files := []string{f.TokenFile}
	if f.TokenFile == "" {
		files = []string{credential("telegram-token")}
	}
	for _, file := range files {
		if file == "" {
			continue
		}
		data, err := os.ReadFile(file)
		if err != nil && (f.TokenFile != "" || !errors.Is(err, fs.ErrNotExist)) {
			return "", fmt.Errorf("cannot read the token: %w", err)
		}
		if t := strings.TrimSpace(string(data)); t != "" {
			return t, nil
		}
	}
	return "", hinted{errors.New("there is no token"), "BotFather gives you one; put it into a file and name it with --token-file PATH, or into TANKSIDE_TOKEN"}
}
