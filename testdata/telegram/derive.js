// Derives bot-api.json, the table that every outgoing call is held to, from the
// TypeScript declarations of the npm package @gramio/types (MIT licence), which are
// themselves generated from the Bot API's documentation.
//
//   npm install @gramio/types@10.3.1 typescript@5
//   node derive.js > bot-api.json
//
// A parameter or field is "name" or "name?"; its type is an alternative of number,
// string, boolean, true, file, "literal", Object and []type, joined by "|".
const fs = require("fs"), ts = require("typescript");
const dir = "node_modules/@gramio/types";
const version = JSON.parse(fs.readFileSync(`${dir}/package.json`, "utf8")).version;

const methods = `getUpdates setWebhook deleteWebhook getWebhookInfo getMe sendMessage sendPhoto sendDocument sendVoice
sendMediaGroup sendChatAction getFile editMessageText editMessageCaption editMessageReplyMarkup deleteMessage
answerCallbackQuery answerInlineQuery setMyCommands deleteMyCommands getMyCommands setMyDescription
setMyShortDescription setMessageReaction leaveChat getChat`.split(/\s+/);

const declarations = {};
for (const name of ["params", "objects", "methods"]) {
  const text = fs.readFileSync(`${dir}/out/${name}.d.ts`, "utf8");
  const source = ts.createSourceFile(name, text, ts.ScriptTarget.Latest, true);
  source.forEachChild((n) => { if (n.name) declarations[n.name.text] = n; });
}

const bare = (s) => s.replace(/^(Objects|Params)\./, "").replace(/^Telegram/, "");
const needed = new Set();

function type(n) {
  if (ts.isParenthesizedTypeNode(n)) return type(n.type);
  if (ts.isUnionTypeNode(n)) return [...new Set(n.types.map(type).filter(Boolean))].join("|");
  if (ts.isArrayTypeNode(n)) return "[]" + group(type(n.elementType) || "string");
  if (ts.isLiteralTypeNode(n)) return n.literal.kind === ts.SyntaxKind.TrueKeyword ? "true" : n.getText().replace(/'/g, '"');
  if (ts.isTypeLiteralNode(n) || ts.isIntersectionTypeNode(n)) return ""; // { toString() }: a convenience of the package
  switch (n.kind) {
    case ts.SyntaxKind.NumberKeyword: return "number";
    case ts.SyntaxKind.StringKeyword: return "string";
    case ts.SyntaxKind.BooleanKeyword: return "boolean";
  }
  const text = n.getText();
  if (text === "Blob" || text === "File" || text === "TelegramInputFile" || text === "Objects.TelegramInputFile") return "file";
  const name = text.replace(/^(Objects|Params)\./, "");
  if (!declarations[name]) return "";
  needed.add(name);
  return bare(name);
}
const group = (s) => (s.includes("|") ? `(${s})` : s);

function fields(n) {
  const out = {};
  for (const m of n.members) out[m.name.text + (m.questionToken ? "?" : "")] = type(m.type);
  return out;
}

const table = { source: `npm package @gramio/types ${version}, MIT licence`, bot_api: "", methods: {}, objects: {} };
table.bot_api = /Bot API v([\d.]+)/.exec(fs.readFileSync(`${dir}/out/params.d.ts`, "utf8"))[1];
for (const name of methods) {
  const params = declarations[name[0].toUpperCase() + name.slice(1) + "Params"];
  table.methods[name] = params ? fields(params) : {};
}
for (const seen = new Set(); ; ) {
  const next = [...needed].find((n) => !seen.has(n));
  if (!next) break;
  seen.add(next);
  const d = declarations[next];
  table.objects[bare(next)] = ts.isInterfaceDeclaration(d) ? fields(d) : type(d.type);
}
console.log(JSON.stringify(table, null, 1));
