using System.Collections.Immutable;
using Outcomes.Measures.Yaml;
using Outcomes.Records;

namespace Outcomes.Measures.Catalogue;

/// <summary>Reads <c>consistency.yaml</c>: a list of consistency rules.</summary>
public static class RuleFile
{
    public static readonly YamlKeys Keys = new("rule", "id", "title", "expect", "severity", "blanks", "why", "source", "examples");

    /// <summary>
    /// Fields that name an event. The worst cases must not vanish because a field beside them is doubtful: no rule blanks one.
    /// </summary>
    private static readonly string[] Events = ["oesophageal", "cardiac_arrest_peri", "death_24h", "cico_declared"];

    private static readonly string[] EventPrefixes = ["fona_", "complication", "plan_", "final_"];

    private static readonly Lazy<ImmutableArray<ConsistencyRule>> FromAssembly =
        new(() => Read(YamlFile.Read(Catalogue.Shipped.Read("consistency.yaml"), "consistency.yaml")));

    /// <summary>The rules that travel with the tool.</summary>
    public static ImmutableArray<ConsistencyRule> Shipped => FromAssembly.Value;

    public static ImmutableArray<ConsistencyRule> Read(YamlNode root) => [.. root.Items().Select(Rule)];

    /// <summary>The shipped rules, if asked for, and those in the files at <paramref name="paths"/>, in that order.</summary>
    /// <param name="shipped">Whether to start from the shipped ones.</param>
    /// <param name="paths">Files, as path on disk and as shown in messages.</param>
    public static ImmutableArray<ConsistencyRule> Load(bool shipped, IEnumerable<(string Path, string Shown)> paths) =>
        Union((shipped ? Shipped : []).Concat(paths.SelectMany(file => Read(YamlFile.ReadPath(file.Path, file.Shown)))));

    /// <summary>The rules of several files together; an id that stands twice is an error.</summary>
    public static ImmutableArray<ConsistencyRule> Union(IEnumerable<ConsistencyRule> rules)
    {
        var seen = new Dictionary<string, ConsistencyRule>(StringComparer.Ordinal);
        foreach (var rule in rules)
            if (!seen.TryAdd(rule.Id, rule))
                throw Failure.Definition(rule.File, rule.Line,
                    $"the rule `{rule.Id}` is also defined in {seen[rule.Id].File}:{seen[rule.Id].Line}; give one of them another id");
        return [.. seen.Values];
    }

    public static bool NamesEvent(string field) =>
        Events.Contains(field) || EventPrefixes.Any(prefix => field.StartsWith(prefix, StringComparison.Ordinal));

    private static ConsistencyRule Rule(YamlNode node)
    {
        var map = node.Map(Keys);
        var severity = map.Required("severity").Choice(("refuse", Severity.Refuse), ("blank", Severity.Blank), ("warn", Severity.Warn));
        return new ConsistencyRule(map.Text("id"), map.Text("expect"), severity)
        {
            Title = map.OptionalText("title") ?? "",
            Blanks = Blanked(map, severity),
            Why = map.OptionalText("why") ?? "",
            Source = map.OptionalText("source") ?? "",
            Examples = map.Optional("examples") is { } examples ? [.. examples.Items().Select(Example)] : [],
            File = node.File,
            Line = map.Required("expect").Line,
        };
    }

    private static ImmutableArray<string> Blanked(YamlMap map, Severity severity)
    {
        var blanks = map.Optional("blanks");
        var items = blanks?.Items().ToArray() ?? [];
        if (severity == Severity.Blank && items.Length == 0)
            throw map.Node.Wrong("a rule of severity blank lists the fields that it blanks: `blanks: [field]`");
        if (severity != Severity.Blank && items.Length > 0)
            throw blanks!.Wrong("only a rule of severity blank has `blanks`");
        foreach (var item in items)
            if (NamesEvent(item.Text()))
                throw item.Wrong($"`{item.Text()}` names an event, and no rule may blank one: use severity warn");
        return [.. items.Select(item => item.Text())];
    }

    private static RuleExample Example(YamlNode node)
    {
        var (given, expect) = Examples.Read(node);
        return new RuleExample(given,
            expect.Choice(("holds", RuleOutcome.Holds), ("broken", RuleOutcome.Broken), ("unknown", RuleOutcome.Unknown)), node.Line);
    }
}
