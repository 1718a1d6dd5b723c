using System.Collections.Immutable;
using Outcomes.Measures.Yaml;

namespace Outcomes.Measures.Catalogue;

/// <summary>Reads <c>derived.yaml</c>: a list of derived columns.</summary>
public static class DerivedFile
{
    public static readonly YamlKeys Keys = new("derived", "id", "type", "sql", "needs", "why");

    private static readonly Lazy<ImmutableArray<DerivedColumn>> FromAssembly =
        new(() => Read(YamlFile.Read(Catalogue.Shipped.Read("derived.yaml"), "derived.yaml")));

    /// <summary>The derived columns that travel with the tool.</summary>
    public static ImmutableArray<DerivedColumn> Shipped => FromAssembly.Value;

    public static ImmutableArray<DerivedColumn> Read(YamlNode root) => [.. root.Items().Select(Column)];

    private static DerivedColumn Column(YamlNode node)
    {
        var map = node.Map(Keys);
        return new DerivedColumn(map.Text("id"), Type(map.Required("type")), map.Text("sql"))
        {
            Needs = map.Optional("needs") is { } needs
                ? [.. needs.Items().Select(group => group.Items().Select(name => name.Text()).ToImmutableArray())]
                : [],
            Why = map.OptionalText("why") ?? "",
            File = node.File,
            Line = node.Line,
        };
    }

    private static DerivedType Type(YamlNode node) => node.Choice(
        ("yes_no", DerivedType.YesNo), ("integer", DerivedType.Integer), ("number", DerivedType.Number), ("code", DerivedType.Code));
}
