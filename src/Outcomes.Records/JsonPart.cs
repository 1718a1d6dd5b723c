using System.Collections.Immutable;
using System.Text.Json;

namespace Outcomes.Records;

/// <summary>
/// One value of a JSON file that knows its place. The platform's own document types keep no line numbers, and a definition
/// that is wrong must be found by its line.
/// </summary>
internal sealed class JsonPart
{
    private readonly JsonText _file;
    private readonly int _offset;

    private JsonPart(JsonText file, ref Utf8JsonReader reader)
    {
        _file = file;
        _offset = (int)reader.TokenStartIndex;
        Kind = reader.TokenType;
        switch (Kind)
        {
            case JsonTokenType.StartObject:
                ReadMembers(ref reader);
                break;
            case JsonTokenType.StartArray:
                var items = ImmutableArray.CreateBuilder<JsonPart>();
                while (reader.Read() && reader.TokenType != JsonTokenType.EndArray)
                    items.Add(new JsonPart(file, ref reader));
                Items = items.DrainToImmutable();
                break;
            case JsonTokenType.String:
                Text = WithoutNul(reader.GetString()!);
                break;
            case JsonTokenType.Number when reader.TryGetDecimal(out var number):
                Number = number;
                break;
        }
    }

    public JsonTokenType Kind { get; }

    /// <summary>The text of a string; empty for other kinds.</summary>
    public string Text { get; } = "";

    /// <summary>The value of a number; null for other kinds and for numbers beyond a decimal's reach.</summary>
    public decimal? Number { get; }

    public ImmutableArray<JsonPart> Items { get; } = [];

    public List<(string Key, JsonPart Value)> Members { get; } = [];

    public bool IsTrue => Kind == JsonTokenType.True;

    public static JsonPart Read(JsonText file, ref Utf8JsonReader reader) => new(file, ref reader);

    /// <summary>The member named <paramref name="key"/>, or null.</summary>
    public JsonPart? Optional(string key)
    {
        foreach (var member in Members)
            if (member.Key == key)
                return member.Value;
        return null;
    }

    public JsonPart Required(string key) => Optional(key) ?? throw Wrong($"the key `{key}` is missing");

    /// <summary>Checks that this is an object with no keys but <paramref name="known"/>.</summary>
    public JsonPart Object(string what, params ReadOnlySpan<string> known)
    {
        if (Kind != JsonTokenType.StartObject)
            throw Wrong($"{what} must be an object in braces");
        foreach (var (key, value) in Members)
            if (!known.Contains(key))
                throw value.Wrong($"unknown key `{key}` in {what}; known are {string.Join(", ", known.ToArray())}");
        return this;
    }

    public ImmutableArray<JsonPart> Array(string what) =>
        Kind == JsonTokenType.StartArray ? Items : throw Wrong($"{what} must be a list in square brackets");

    public string String(string what) => Kind == JsonTokenType.String ? Text : throw Wrong($"{what} must be text in quotes");

    public bool Boolean(string what) =>
        Kind is JsonTokenType.True or JsonTokenType.False ? IsTrue : throw Wrong($"{what} must be true or false");

    /// <summary>The texts of a list, which must be there, be unique and not be empty.</summary>
    public ImmutableArray<string> Strings(string what)
    {
        var texts = Array(what).Select(item => item.String($"each of {what}")).ToImmutableArray();
        if (texts.IsEmpty)
            throw Wrong($"{what} is empty");
        for (var i = 0; i < texts.Length; i++)
            if (texts.IndexOf(texts[i]) != i)
                throw Items[i].Wrong($"`{texts[i]}` stands twice in {what}");
        return texts;
    }

    public Failure Wrong(string message) => Failure.Definition(_file.Name, _file.LineAt(_offset), message);

    private string WithoutNul(string text) =>
        text.Contains('\0', StringComparison.Ordinal) ? throw Wrong(@"a NUL character (\u0000) is not allowed; remove it") : text;

    private void ReadMembers(ref Utf8JsonReader reader)
    {
        while (reader.Read() && reader.TokenType != JsonTokenType.EndObject)
        {
            var key = WithoutNul(reader.GetString()!);
            reader.Read();
            var value = new JsonPart(_file, ref reader);
            if (Optional(key) is not null)
                throw value.Wrong($"the key `{key}` stands twice");
            Members.Add((key, value));
        }
    }
}
