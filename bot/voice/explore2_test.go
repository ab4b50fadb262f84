package voice
import ("testing";"os";"path/filepath";"strings")
func TestQuietClips(t *testing.T){
 if os.Getenv("EXPLORE")=="" {return}
 os.MkdirAll("/tmp/tsquiet",0o755)
 files,_:=filepath.Glob("/tmp/tsclips/*.wav")
 for _,f:=range files{ if strings.HasSuffix(f,"-10.wav"){continue}; b,_:=os.ReadFile(f); s,err:=FromWAV(b); if err!=nil{t.Fatal(err)}
  os.WriteFile(filepath.Join("/tmp/tsquiet",filepath.Base(f)),quieten(s).WAV(),0o644)}
}
