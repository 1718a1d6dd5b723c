using System.Text.Json;

namespace Outcomes.Records;

/// <summary>The bytes of a JSON file and the name that messages give it.</summary>
internal sealed class JsonText(string name, ReadOnlyMemory<byte> bytes)
{
    private const int MaximumLength = 4 * 1024 * 1024;

    public string Name => name;

    /// <summary>The file's one value. A byte order mark is let pass: common editors write one.</summary>
    public JsonPart Read()
    {
        if (bytes.Length > MaximumLength)
            throw Failure.Definition(name, 0, "the file is over 4 MiB; split it");
        var text = bytes.Span;
        if (text.StartsWith("\uFEFF"u8))
        {
            bytes = bytes[3..];
            text = bytes.Span;
        }

        try
        {
            var reader = new Utf8JsonReader(text);
            reader.Read();
            var root = JsonPart.Read(this, ref reader);
            reader.Read();
            return root;
        }
        catch (Exception e) when (e is JsonException or InvalidOperationException)
        {
            // InvalidOperationException: a text that is not valid UTF-8 is found only when it is read.
            var line = e is JsonException { LineNumber: { } zeroBased } ? (int)zeroBased + 1 : 0;
            throw Failure.Definition(name, line, "not valid JSON; check commas, quotes and brackets near here, and save the file as UTF-8");
        }
    }

    /// <summary>1-based line of a byte.</summary>
    public int LineAt(int offset) => 1 + bytes.Span[..offset].Count((byte)'\n');
}
