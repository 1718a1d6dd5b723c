using System.Collections.Immutable;
using Outcomes.Measures.Yaml;

namespace Outcomes.Measures.Catalogue;

/// <summary>Reads the <c>examples</c> of a measure or rule.</summary>
internal static class Examples
{
    public static (ImmutableDictionary<string, string> Given, YamlNode Expect) Read(YamlNode node)
    {
        var map = node.Map("given", "expect");
        var given = map.Required("given");
        var cells = given.IsMap ? given.Pairs().Where(pair => !pair.Value.IsNull).ToImmutableDictionary(pair => pair.Key, pair => Cell(pair.Value)) : throw given.Wrong("expected `{field: value, ...}` here");
        return (cells, map.Required("expect"));
    }

    /// <summary>A set may be written as a list.</summary>
    private static string Cell(YamlNode value) => value.IsList ? string.Join(",", value.Items().Select(item => item.Text())) : value.Text();
}
