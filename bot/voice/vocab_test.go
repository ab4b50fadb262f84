package voice
import ("testing";"os")
func TestVocabOnly(t *testing.T){
 if os.Getenv("EXPLORE")=="" {return}
 if _,err:=NewSphinx(botLexicon(t),SphinxModel,"/tmp/tsvoc");err!=nil{t.Fatal(err)}
}
