-- Read many small documents in one pandoc process: each stands alone, so an unclosed fence in one cannot swallow the next.
-- stdin: JSON list of {text, format}; stdout: JSON list of pandoc documents.
local pieces = pandoc.json.decode(io.read("a"), false)
local documents = {}
for i, piece in ipairs(pieces) do
  documents[i] = pandoc.write(pandoc.read(piece.text, piece.format), "json")
end
io.write("[" .. table.concat(documents, ",") .. "]")
