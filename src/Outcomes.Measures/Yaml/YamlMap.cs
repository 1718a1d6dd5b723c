using System.Diagnostics.CodeAnalysis;

namespace Outcomes.Measures.Yaml;

/// <summary>A map whose keys were checked.</summary>
public sealed class YamlMap(YamlNode node, IReadOnlyDictionary<string, YamlNode> pairs)
{
    public YamlNode Node => node;

    public YamlNode Required(string key) => Optional(key) ?? throw node.Wrong($"the key `{key}` is missing");

    /// <summary>The value of <paramref name="key"/>, or null when it is absent or empty.</summary>
    public YamlNode? Optional(string key) => TryGet(key, out var value) && !value.IsNull ? value : null;

    public string Text(string key) => Required(key).Text() is { Length: > 0 } text ? text : throw Required(key).Wrong($"`{key}` is empty");

    public string? OptionalText(string key) => Optional(key)?.Text();

    /// <summary>A path or name that may be left out, but not be empty: an empty path would be the folder itself.</summary>
    public string? OptionalName(string key) => Optional(key) is null ? null : Text(key);

    public bool TryGet(string key, [NotNullWhen(true)] out YamlNode? value) => pairs.TryGetValue(key, out value);
}
