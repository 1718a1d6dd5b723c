using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Ingestion.Ledgers;
using Outcomes.Measures.Yaml;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Cli.Definitions;

/// <summary>Reads a pipeline file. Every wrong or unknown key is an error at its line.</summary>
public static class PipelineFile
{
    public static readonly YamlKeys Keys = new(
        "pipeline", "name", "as_of", "sources", "capture", "fields", "form", "measures", "consistency", "flags", "derived", "sections",
        "questions", "strata", "headline", "baseline", "changes", "actions", "minutes", "signals", "runchart", "case_mix",
        "unusual_records", "assume", "duplicates", "strict", "tolerance", "audience", "data", "invented", "store");

    // Fifty years, far more than a median is ever frozen from.
    private const int MaximumBaseline = 600;

    public static readonly YamlKeys SourceKeys = new("pipeline sources", "file", "mapping", "exported", "mended", "repeated_keys");

    public static readonly YamlKeys CaptureKeys = new("pipeline capture", "file");

    public static readonly YamlKeys BaselineKeys = new("pipeline baseline", "from", "months");

    public static readonly YamlKeys SignalsKeys = new("pipeline signals", "pace");

    public static readonly YamlKeys RunChartKeys = new("pipeline runchart", "span");

    /// <param name="path">The file as given on the command line.</param>
    /// <param name="replaced">Named sources that are pointed at another file.</param>
    /// <param name="withSources">False leaves the sources and their mappings unread, which may not be there yet.</param>
    public static PipelineDefinition Read(string path, IReadOnlyDictionary<string, string> replaced, bool withSources = true)
    {
        var full = Path.GetFullPath(path);
        var folder = Path.GetDirectoryName(full)!;
        var root = YamlFile.ReadPath(full, path);
        var map = root.Map(Keys);
        var name = map.Text("name");
        if (!name.All(c => char.IsAsciiLetterOrDigit(c) || c is '-' or '_'))
            throw map.Required("name").Wrong("the name may hold letters, digits, - and _ only: it becomes a folder's name");
        var baseline = map.Optional("baseline");
        var (actions, learning) = PipelineActions.Read(map, folder, name);
        return new PipelineDefinition
        {
            Path = full,
            File = path,
            Folder = folder,
            Name = name,
            AsOf = map.Optional("as_of") is { } asOf ? asOf.Date() : null,
            Sources = withSources ? Sources(map.Required("sources"), folder, replaced) : [],
            Capture = map.Optional("capture")?.Map(CaptureKeys).Text("file") is { } counts
                ? new CountsSource(Path.GetFullPath(Path.Combine(folder, counts)), counts)
                : null,
            LocalFields = map.OptionalName("fields"),
            Form = map.Optional("form") is { } form ? FormRequest.Of(form) : null,
            Measures = Paths(map.Optional("measures"), folder),
            Consistency = Paths(map.Optional("consistency"), folder),
            Flags = Paths(map.Optional("flags"), folder),
            Derived = Paths(map.Optional("derived"), folder),
            Sections = Paths(map.Optional("sections"), folder),
            Questions = map.Optional("questions") is { } questions ? Paths(questions, folder) : [],
            Strata = Words(map.Optional("strata")),
            Headline = Words(map.Optional("headline")),
            Baseline = baseline is { IsMap: true } ? Baseline(baseline) : null,
            WholeBaseline = baseline is { IsMap: false } && baseline.Choice(("all", true)),
            Pace = map.Optional("signals")?.Map(SignalsKeys).Optional("pace")?.Choice(("default", Pace.Default), ("strict", Pace.Strict),
                ("faster", Pace.Faster)) ?? Pace.Default,
            Changes = map.OptionalName("changes") is { } changes ? ChangesFile.Read(Path.Combine(folder, changes), changes) : [],
            Actions = actions,
            Learning = learning,
            ActionsFile = map.OptionalName("actions"),
            Minutes = map.OptionalName("minutes"),
            Span = map.Optional("runchart")?.Map(RunChartKeys).Optional("span")?.Choice(("month", PointSpan.Month),
                ("quarter", PointSpan.Quarter)),
            CaseMix = map.Optional("case_mix") is { } caseMix ? CaseMixRequest.Of(caseMix) : null,
            UnusualRecords = map.Optional("unusual_records")?.Choice(("on", true), ("off", false)) ?? false,
            Assume = Assume(map.Optional("assume")),
            AssumeLine = map.Optional("assume")?.Line ?? 0,
            Duplicates = map.Optional("duplicates")?.Choice(("last", DuplicatePolicy.Last), ("first", DuplicatePolicy.First))
                ?? DuplicatePolicy.Last,
            Strict = map.Optional("strict")?.YesNo() ?? false,
            Tolerance = Tolerance(map.Optional("tolerance")),
            Audience = Audience(map.Optional("audience")),
            ExportRecords = map.Optional("data")?.Choice(("records", true), ("none", false)) ?? true,
            Invented = map.Optional("invented")?.YesNo() ?? false,
            Store = Path.GetFullPath(Path.Combine(folder, map.OptionalName("store") ?? Path.Combine(".outcomes", name))),
        };
    }

    private static ImmutableArray<PipelineSource> Sources(YamlNode node, string folder, IReadOnlyDictionary<string, string> replaced)
    {
        var sources = new List<PipelineSource>();
        foreach (var (name, value) in node.Pairs())
        {
            var map = value.Map(SourceKeys);
            var shown = replaced.TryGetValue(name, out var other) ? other : map.Text("file");
            var mapping = map.Text("mapping");
            var exported = map.Optional("exported") is { } date ? date.Date() : (DateOnly?)null;
            var read = MappingFile.Read(Path.Combine(folder, mapping), mapping);
            if (read.Table.RowsAreSamples && map.Optional("mended") is { } corrected)
                throw corrected.Wrong("samples are not corrected row by row; correct the export of the traces");
            var repeated = map.Optional("repeated_keys")?.Choice(("expected", true), ("refused", false)) ?? false;
            MendedRows[] mended = [.. Several(map.Optional("mended"))
                .Select(item => new MendedRows(Path.GetFullPath(Path.Combine(folder, item.Text())), item.Text()))];
            sources.AddRange(SourceFiles.Of(name, replaced.ContainsKey(name) ? Directory.GetCurrentDirectory() : folder, shown)
                .Select(file => new PipelineSource(file.Name, file.Path, file.Shown, exported, read)
                {
                    Mended = [.. mended],
                    RepeatedKeysExpected = repeated,
                }));
        }

        if (sources.Count == 0)
            throw node.Wrong("the pipeline has no source; name at least one under `sources`");
        foreach (var unknown in replaced.Keys.Where(name => node.Pairs().All(pair => pair.Key != name)))
            throw new Failure(ExitCode.Usage, $"--source {unknown}: the pipeline has no source of that "
                + $"name{Nearest.Suggest(unknown, node.Pairs().Select(pair => pair.Key))}");
        if (sources.TrueForAll(source => source.Mapping.Table.RowsAreAttempts || source.Mapping.Table.RowsAreSamples))
            throw node.Wrong("no source holds records; a source of records is needed");

        // Only where every source says when it was exported do the dates order them: a half-dated list has no order of its own.
        return sources.TrueForAll(source => source.Exported is not null) ? [.. sources.OrderBy(source => source.Exported)] : [.. sources];
    }

    private static IEnumerable<YamlNode> Several(YamlNode? node) => node is null ? [] : node.IsList ? node.Items() : [node];

    private static ImmutableArray<DefinitionPath> Paths(YamlNode? node, string folder)
    {
        if (node is null) return [new DefinitionPath("", DefinitionPath.ShippedWord, 0)];
        return
        [
            .. node.Items().Select(item => item.Text() == DefinitionPath.ShippedWord
                ? new DefinitionPath("", DefinitionPath.ShippedWord, item.Line)
                : new DefinitionPath(Path.GetFullPath(Path.Combine(folder, item.Text())), item.Text(), item.Line)),
        ];
    }

    private static ImmutableArray<PipelineWord> Words(YamlNode? node) =>
        node is null ? [] : [.. node.Items().Select(item => new PipelineWord(item.Text(), item.Line))];

    private static (Month From, int Months) Baseline(YamlNode node)
    {
        var map = node.Map(BaselineKeys);
        var from = ReportedTime.TryParse(map.Text("from"), out Month month)
            ? month
            : throw map.Required("from").Wrong($"expected a month such as 2023-04 here, in the years {ReportedTime.Years}");
        var months = map.Required("months").Integer();
        return months is >= 1 and <= MaximumBaseline
            ? (from, months)
            : throw map.Required("months").Wrong($"a baseline has 1 to {MaximumBaseline} months; `baseline: all` takes the whole period");
    }

    private static ImmutableDictionary<string, string> Assume(YamlNode? node) => node is null
        ? ImmutableDictionary<string, string>.Empty
        : node.Pairs().ToImmutableDictionary(pair => pair.Key, pair => pair.Value.Text());

    private static double Tolerance(YamlNode? node)
    {
        if (node is null) return 0.05;
        var value = (double)node.Number();
        return value is >= 0 and <= 1 ? value : throw node.Wrong("expected a share from 0 to 1 here, such as 0.05");
    }

    private static Audience Audience(YamlNode? node)
    {
        if (node is null) return Analysis.Audience.Department;
        return node.Choice(("department", Analysis.Audience.Department), ("network", Analysis.Audience.Network),
            ("public", Analysis.Audience.Public));
    }
}
