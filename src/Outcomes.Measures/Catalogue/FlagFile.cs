using System.Collections.Immutable;
using Outcomes.Measures.Yaml;
using Outcomes.Records;

namespace Outcomes.Measures.Catalogue;

/// <summary>Reads <c>flags.yaml</c>: a list of flags.</summary>
public static class FlagFile
{
    public static readonly YamlKeys Keys =
        new("flag", "id", "title", "tier", "when", "harm", "shows", "standards", "why", "source", "examples");

    private static readonly Lazy<ImmutableArray<Flag>> FromAssembly =
        new(() => Read(YamlFile.Read(Catalogue.Shipped.Read("flags.yaml"), "flags.yaml")));

    /// <summary>The flags that travel with the tool.</summary>
    public static ImmutableArray<Flag> Shipped => FromAssembly.Value;

    public static ImmutableArray<Flag> Read(YamlNode root) => [.. root.Items().Select(Flag)];

    /// <summary>The shipped flags, if asked for, and those in the files at <paramref name="paths"/>, in that order.</summary>
    /// <param name="shipped">Whether to start from the shipped ones.</param>
    /// <param name="paths">Files, as path on disk and as shown in messages.</param>
    /// <exception cref="Failure">A flag is wrong, or an id stands twice (exit 3, file and line).</exception>
    public static ImmutableArray<Flag> Load(bool shipped, IEnumerable<(string Path, string Shown)> paths)
    {
        var seen = new Dictionary<string, Flag>(StringComparer.Ordinal);
        ImmutableArray<Flag> all =
            [.. (shipped ? Shipped : []).Concat(paths.SelectMany(file => Read(YamlFile.ReadPath(file.Path, file.Shown))))];
        foreach (var flag in all)
            if (!seen.TryAdd(flag.Id, flag))
                throw Failure.Definition(flag.File, flag.Line,
                    $"the flag `{flag.Id}` is also defined in {seen[flag.Id].File}:{seen[flag.Id].Line}; give one of them another id");
        return all;
    }

    private static Flag Flag(YamlNode node)
    {
        var map = node.Map(Keys);
        var tier = map.Required("tier")
            .Choice(("1", Tier.One), ("2", Tier.Two), ("3", Tier.Three), ("learning", Tier.Learning), ("data", Tier.Data));
        return new Flag(map.Text("id"), tier, map.Text("when"))
        {
            Title = map.Text("title"),
            Harm = map.Optional("harm") is { } harm ? [.. harm.Items().Select(item => item.Text())] : [],
            Shows = map.Optional("shows") is { } shows ? [.. shows.Items().Select(item => item.Text())] : [],
            Standards = map.Optional("standards") is { } standards ? [.. standards.Items().Select(item => item.Text())] : [],
            Why = map.OptionalText("why") ?? "",
            Source = map.OptionalText("source") ?? "",
            Examples = map.Optional("examples") is { } examples ? [.. examples.Items().Select(Example)] : [],
            File = node.File,
            Line = map.Required("when").Line,
        };
    }

    private static FlagExample Example(YamlNode node)
    {
        var (given, expect) = Examples.Read(node);
        return new FlagExample(given, expect.Choice(("fires", Fired.Fires), ("clear", Fired.Clear), ("unknown", Fired.Unknown)), node.Line);
    }
}
