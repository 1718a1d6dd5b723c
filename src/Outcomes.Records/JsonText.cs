using System.Text.Json;

namespace Outcomes.Records;

/// <summary>The bytes of a JSON file and the name that messages give it.</summary>
internal sealed class JsonText(string name, ReadOnlyMemory<byte> bytes)
{
    public string Name => name;

    /// <summary>The file's one value. A byte order mark is let pass: common editors write one.</summary>
    public JsonPart Read()
    {
        if (bytes.Length > DefinitionText.MaximumBytes)
            throw DefinitionText.TooLong(name);
        var text = bytes.Span;
        if (text.StartsWith("\uFEFF"u8))
        {
            bytes = bytes[3..];
            text = bytes.Span;
        }

        var reader = new Utf8JsonReader(text);
        try
        {
            reader.Read();
            var root = JsonPart.Read(this, ref reader);
            reader.Read();
            return root;
        }
        catch (JsonException e)
        {
            throw Failure.Definition(name, (int)(e.LineNumber ?? 0) + 1, "not valid JSON; check commas, quotes and brackets near here");
        }
        catch (InvalidOperationException)
        {
            // What the reader throws for a text that is no Unicode, once the text is asked for.
            throw Failure.Definition(name, LineAt((int)reader.TokenStartIndex),
                "a text with characters that cannot be read; save the file as UTF-8");
        }
    }

    /// <summary>1-based line of a byte.</summary>
    public int LineAt(int offset) => 1 + bytes.Span[..offset].Count((byte)'\n');
}
