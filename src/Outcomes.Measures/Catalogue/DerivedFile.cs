using System.Collections.Immutable;
using Outcomes.Measures.Yaml;
using Outcomes.Records;

namespace Outcomes.Measures.Catalogue;

/// <summary>Reads <c>derived.yaml</c>: a list of derived columns.</summary>
public static class DerivedFile
{
    public static readonly YamlKeys Keys = new("derived", "id", "title", "type", "unit", "values", "sql", "needs", "why");

    private static readonly Lazy<ImmutableArray<DerivedColumn>> FromAssembly =
        new(() => Read(YamlFile.Read(Catalogue.Shipped.Read("derived.yaml"), "derived.yaml")));

    /// <summary>The derived columns that travel with the tool.</summary>
    public static ImmutableArray<DerivedColumn> Shipped => FromAssembly.Value;

    public static ImmutableArray<DerivedColumn> Read(YamlNode root) => [.. root.Items().Select(Column)];

    /// <summary>The shipped columns, if asked for, and those in the files at <paramref name="paths"/>, in that order.</summary>
    /// <param name="shipped">Whether to start from the shipped ones.</param>
    /// <param name="paths">Files, as path on disk and as shown in messages.</param>
    /// <exception cref="Failure">A column is wrong, or an id stands twice (exit 3, file and line).</exception>
    public static ImmutableArray<DerivedColumn> Load(bool shipped, IEnumerable<(string Path, string Shown)> paths)
    {
        var seen = new Dictionary<string, DerivedColumn>(StringComparer.Ordinal);
        ImmutableArray<DerivedColumn> all =
            [.. (shipped ? Shipped : []).Concat(paths.SelectMany(file => Read(YamlFile.ReadPath(file.Path, file.Shown))))];
        foreach (var column in all)
            if (!seen.TryAdd(column.Id, column))
                throw Failure.Definition(column.File, column.Line, $"the derived column `{column.Id}` is also defined in "
                    + $"{seen[column.Id].File}:{seen[column.Id].Line}; give one of them another id");
        return all;
    }

    private static DerivedColumn Column(YamlNode node)
    {
        var map = node.Map(Keys);
        return new DerivedColumn(map.Text("id"), Type(map.Required("type")), map.Text("sql"))
        {
            Title = map.Text("title"),
            Unit = map.OptionalText("unit") ?? "",
            Values = Values(map.Optional("values")).ToImmutableDictionary(pair => pair.Key, pair => pair.Title, StringComparer.Ordinal),
            Order = [.. Values(map.Optional("values")).Select(pair => pair.Key)],
            Needs = map.Optional("needs") is { } needs
                ? [.. needs.Items().Select(group => group.Items().Select(name => name.Text()).ToImmutableArray())]
                : [],
            Why = map.OptionalText("why") ?? "",
            File = node.File,
            Line = node.Line,
        };
    }

    private static IEnumerable<(string Key, string Title)> Values(YamlNode? node) =>
        node?.Pairs().Select(pair => (pair.Key, pair.Value.Text())) ?? [];

    private static DerivedType Type(YamlNode node) => node.Choice(
        ("yes_no", DerivedType.YesNo), ("integer", DerivedType.Integer), ("number", DerivedType.Number), ("code", DerivedType.Code));
}
