using Outcomes.Cli.Definitions;
using Outcomes.Ingestion;
using Outcomes.Records;

namespace Outcomes.Tests.Cli;

/// <summary>A key and its value as a file writes it.</summary>
public sealed record Pair(string Key, string Value);

/// <summary>
/// A pipeline folder with the files that docs/pipeline.md shows, in which one map at a time is replaced by another and loaded.
/// </summary>
internal sealed class DefinitionFolder : IDisposable
{
    private static readonly Dictionary<string, string> Files = new()
    {
        ["pipeline"] = "pipeline.yaml",
        ["mapping"] = "mapping.yaml",
        ["measure"] = "measures/awake_first_pass.yaml",
        ["flag"] = "flags.yaml",
        ["rule"] = "consistency.yaml",
        ["derived"] = "derived.yaml",
        ["section"] = "sections.yaml",
        ["question"] = "questions/older.yaml",
        ["change"] = "changes.yaml",
        ["action"] = "actions.yaml",
        ["minutes"] = Minutes,
        ["fields"] = "fields.json",
        ["counts"] = "tubes-issued.csv",
    };

    private const string Minutes = "minutes/minutes-2026-01.json";

    public string Path { get; } = Directory.CreateTempSubdirectory("outcomes-test-").FullName;

    public void Dispose() => Directory.Delete(Path, recursive: true);

    /// <summary>Writes every file of the page, and removes what another map had left.</summary>
    public void Reset()
    {
        Directory.CreateDirectory(System.IO.Path.Combine(Path, "measures"));
        foreach (var file in Directory.EnumerateFiles(System.IO.Path.Combine(Path, "measures"))) File.Delete(file);
        Directory.CreateDirectory(System.IO.Path.Combine(Path, "minutes"));
        Directory.CreateDirectory(System.IO.Path.Combine(Path, "questions"));
        foreach (var block in PipelinePage.Blocks) Write(Files[block.Kind], block.Text);
        Write("other.yaml", "columns: {record_id: Other}\n");
    }

    public void Write(string file, string text) => File.WriteAllText(System.IO.Path.Combine(Path, file), text);

    public string Read(string file) => File.ReadAllText(System.IO.Path.Combine(Path, file));

    /// <summary>The hash of the pipeline's definitions.</summary>
    public string Hash() =>
        DefinitionFiles.Load(PipelineFile.Read(System.IO.Path.Combine(Path, "pipeline.yaml"), new Dictionary<string, string>())).Hash;

    /// <summary>Puts a map where its kind belongs, among as little else as can be, loads it by its parser and gives the hash.</summary>
    public string Load(string kind, IEnumerable<Pair> pairs)
    {
        Reset();
        var map = Map(Completion.Of(kind, [.. pairs]));
        var words = kind.Split(' ');
        switch (words[0])
        {
            case "pipeline" when words.Length == 1: Write("pipeline.yaml", map); break;
            case "pipeline": Pipeline(words[1], words[1] == "sources" ? $"{{records: {map}}}" : map); break;
            case "mapping": Mapping(words, map); break;
            case "measure": Write($"measures/{IdOf(pairs)}.yaml", map); Pipeline("measures", "[shipped, measures]"); break;
            case "example":
                Write("measures/x.yaml", $"{{id: x, title: X, eligible: emergency, met: first_pass, examples: [{map}]}}");
                Pipeline("measures", "[shipped, measures/x.yaml]");
                break;
            case "flag": Listed("flags", "[shipped, flags.yaml]", map); break;
            case "rule": Listed("consistency", "[shipped, consistency.yaml]", map); break;
            case "question": Write(Files["question"], map); Pipeline("questions", "[questions]"); break;
            case "change": Listed("changes", "changes.yaml", map); break;
            case "action" when words.Length == 1: Listed("actions", "actions.yaml", map); break;
            case "action": Closing(map); break;
            case "minutes": MinutesAndActions(words, map); break;
            case "fields": Write("fields.json", Fields(kind, map)); Pipeline("fields", "fields.json"); break;
            case "derived": Listed("derived", "[shipped, derived.yaml]", map); break;
            case "section": Listed("sections", "[shipped, sections.yaml]", Section(words, map)); break;
            case "counts": return Counts([.. pairs]);
            default: throw new ArgumentException($"docs/pipeline.md has a kind that the tests cannot load: {kind}");
        }

        return Hash();
    }

    private static string IdOf(IEnumerable<Pair> pairs) => pairs.FirstOrDefault(pair => pair.Key == "id")?.Value ?? "x";

    private static string Map(IEnumerable<Pair> pairs) => $"{{{string.Join(", ", pairs.Select(pair => $"\"{pair.Key}\": {pair.Value}"))}}}";

    private void Pipeline(string key, string value, string name = "x") => Write("pipeline.yaml", key == "sources"
        ? $"{{name: {name}, sources: {value}}}"
        : $"{{name: {name}, sources: {{records: {{file: export.csv, mapping: mapping.yaml}}}}, {key}: {value}}}");

    private void Listed(string key, string value, string map)
    {
        Write($"{key}.yaml", $"- {map}");
        Pipeline(key, value);
    }

    private void Closing(string map)
    {
        Write("actions.yaml", $"- {map}");
        Write(Minutes, MinutesOf(["minutes", "actions"], string.Join(", ", ((string[])["2026-01-ABCDEF-1", "2026-01-ABCDEF-2"]).Select(
            id => $$"""{"id": "{{id}}", "what": "Count", "owner": "lead nurse", "due": "2026-03-31"}"""))));
        Pipeline("minutes: minutes, actions", "actions.yaml", "harbour");
    }

    // What minutes close stands in the file of actions.
    private void MinutesAndActions(string[] words, string map)
    {
        Write("actions.yaml", Read("actions.yaml")
            + "\n- {id: second, what: Count, owner: lead nurse, due: 2026-03-31, opened: 2026-01-13}\n");
        Write(Minutes, MinutesOf(words, map));
        Pipeline("minutes: minutes, actions", "actions.yaml", "harbour");
    }

    private static string MinutesOf(string[] words, string map) => words switch
    {
        [_] => map,
        [_, "present"] => Whole("present", map),
        [_, "cases"] => Whole("cases", $"[{map}]"),
        [_, "factors"] => Whole("cases", $$"""[{"id": "ABCDEF", "factors": {{map}}}]"""),
        [_, "sides"] => Whole("cases", $$$"""[{"id": "ABCDEF", "factors": {"team": {{{map}}}}}]"""),
        _ => Whole(words[1], $"[{map}]"),
    };

    private static string Whole(string key, string value) => $$"""
        {"format": "outcomes-minutes", "version": 1, "pipeline": "harbour", "month": "2026-01", "held": "2026-02-10", "{{key}}": {{value}}}
        """;

    private static string Section(string[] words, string map) => words switch
    {
        [_, "compare"] => $"{{id: x, title: X, question: Why?, measures: [first_pass], strata: [shocked_before, adult], compare: {map}}}",
        [_, "agreement"] => $"{{id: x, title: X, question: Why?, agreement: [{map}]}}",
        [_, "answers"] => "{id: x, title: X, question: Why?, agreement: [{id: x, title: X, first: a, second: b, answers: "
            + $"[{map}, {{title: Other, first: not adult, second: not emergency}}]}}]}}",
        _ => map,
    };

    // A second source holds the records, whatever the rows of this one are.
    private void Mapping(string[] words, string map)
    {
        const string Record = "record_id: {column: id}";
        Write("mapping.yaml", words switch
        {
            [_] => map,
            [_, "columns"] => $"columns: {{{Record}, spo2_min: {map}}}",
            [_, "derive", var field] => $"{{columns: {{{Record}}}, derive: {{{field}: {map}}}}}",
            [_, "columns_checked"] => $"{{columns: {{{Record}}}, columns_checked: {{Code: {map}}}}}",
            _ => $"{{columns: {{{Record}}}, {words[1]}: {map}}}",
        });
        Pipeline("sources", "{records: {file: export.csv, mapping: other.yaml}, more: {file: more.csv, mapping: mapping.yaml}}");
    }

    private static string Fields(string kind, string map) => kind switch
    {
        "fields" or "fields tables" => map,
        "fields field" => $$"""{"fields": [{{map}}]}""",
        "fields categories" =>
            $$"""{"fields": [{"name": "x", "type": "string", "outcomes:identifying": "none", "categories": [{{map}}]}]}""",
        "fields missingValues" =>
            $$"""{"fields": [{"name": "x", "type": "string", "outcomes:identifying": "none", "missingValues": ["", {{map}}]}]}""",
        "fields constraints" when map.Contains("enum", StringComparison.Ordinal) =>
            $$"""{"fields": [{"name": "x", "type": "string", "outcomes:identifying": "none", "constraints": {{map}}}]}""",
        "fields constraints" =>
            $$"""{"fields": [{"name": "x", "type": "integer", "outcomes:identifying": "none", "constraints": {{map}}}]}""",
        _ => $$"""{"fields": [{"name": "x", "type": "integer", "outcomes:identifying": "none", "{{kind.Split(' ')[1]}}": {{map}}}]}""",
    };

    private string Counts(Pair[] cells)
    {
        Write("counts.csv", $"{string.Join(',', cells.Select(cell => cell.Key))}\n{string.Join(',', cells.Select(cell => cell.Value))}\n");
        var read = CountsFile.Read(System.IO.Path.Combine(Path, "counts.csv"), "counts.csv");
        return read.Findings.IsEmpty ? "" : throw new Failure(ExitCode.Input, read.Findings[0].Explanation, "counts.csv");
    }
}
