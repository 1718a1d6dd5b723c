using System.Collections.Immutable;
using Outcomes.Measures.Yaml;

namespace Outcomes.Measures.Catalogue;

/// <summary>Reads the <c>examples</c> of a measure or rule.</summary>
internal static class Examples
{
    public static readonly YamlKeys Keys = new("example", "given", "expect");

    public static (ImmutableDictionary<string, string> Given, YamlNode Expect) Read(YamlNode node)
    {
        var map = node.Map(Keys);
        var given = map.Required("given");
        if (!given.IsMap)
            throw given.Wrong("expected `{field: value, ...}` here");
        var cells = given.Pairs().Where(pair => !pair.Value.IsNull);
        return (cells.ToImmutableDictionary(pair => pair.Key, pair => Cell(pair.Value)), map.Required("expect"));
    }

    /// <summary>A set may be written as a list.</summary>
    private static string Cell(YamlNode value) => value.IsList ? string.Join(",", value.Items().Select(item => item.Text())) : value.Text();
}
