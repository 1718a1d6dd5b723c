using System.Reflection;
using System.Text;
using Outcomes.Cli.Definitions;
using Outcomes.Records;

namespace Outcomes.Tests.Cli;

/// <summary>
/// The definitions' hash: every key of docs/pipeline.md, which is held to the parsers, is changed once in the text of a file. The hash must
/// move, or stay where the key can change neither a figure nor a sentence.
/// </summary>
public sealed class DefinitionsHashTests : IDisposable
{
    /// <summary>
    /// Keys that change no figure and no sentence, or are printed beside the hash, or name an input that has a hash of its own.
    /// </summary>
    private static readonly string[] Still =
    [
        "pipeline|name", "pipeline|as_of", "pipeline|form", "pipeline|data", "pipeline|store", "pipeline form|fields",
        "pipeline form|attempts", "pipeline sources|file", "pipeline sources|exported", "pipeline sources|mended", "pipeline capture|file",
        "mapping columns_checked|why", "measure|examples", "flag|examples", "rule|examples", "example|given", "example|expect",
        "minutes|present", "minutes|numbers", .. WithoutSentence("minutes present"),
        .. WithoutSentence("minutes cases").Where(name => name != "minutes cases|learning"), .. WithoutSentence("minutes factors"),
        .. WithoutSentence("minutes sides"),
        "fields|$schema", "fields|title", "fields|description", "fields|fieldsMatch", "fields field|example",
    ];

    /// <summary>Keys with one value only.</summary>
    private static readonly string[] Fixed =
        [
            "minutes|format", "minutes|version", "minutes|pipeline", "fields field|delimiter", "fields field|itemType",
            "fields field|trueValues", "fields field|falseValues", "fields field|format"
        ];

    /// <summary>A second value of keys that cannot be left out; the first is the page's example.</summary>
    private static readonly Dictionary<string, string> Second = new()
    {
        ["pipeline|name"] = "hill",
        ["question|measure"] = "hypotension",
        ["pipeline|sources"] = "{records: {file: export.csv, mapping: other.yaml}}",
        ["pipeline sources|file"] = "second.csv",
        ["pipeline sources|mapping"] = "other.yaml",
        ["pipeline capture|file"] = "second.csv",
        ["pipeline baseline|from"] = "2024-04",
        ["pipeline baseline|months"] = "24",
        ["pipeline case_mix|measure"] = "[hypotension]",
        ["mapping|columns"] = "{record_id: Other}",
        ["mapping columns|column"] = "Other",
        ["mapping derive hour_band|from_time"] = "Other",
        ["mapping derive age_band|from_age"] = "Other",
        ["mapping derive day_type|from_date"] = "Other",
        ["mapping derive day_type|holidays"] = "[]",
        ["mapping attempts|wide"] = "\"try{n}_*\"",
        ["mapping status|column"] = "Other",
        ["mapping status|deleted"] = "[gone]",
        ["mapping columns_checked|rules"] = "[identifier_email]",
        ["mapping columns_checked|why"] = "\"serial numbers, checked by the lead nurse, 2026-04-01\"",
        ["measure|id"] = "second",
        ["measure|title"] = "Second",
        ["measure|eligible"] = "adult",
        ["measure|met"] = "not first_pass",
        ["measure|value"] = "spo2_pre",
        ["measure|decimals"] = "2",
        ["example|given"] = "{urgency: planned, age_years: 40}",
        ["example|expect"] = "missing",
        ["flag|id"] = "second",
        ["flag|title"] = "Second",
        ["flag|tier"] = "2",
        ["flag|when"] = "spo2_min < 60",
        ["rule|id"] = "second",
        ["rule|expect"] = "spo2_min < 101",
        ["rule|severity"] = "refuse",
        ["derived|id"] = "second",
        ["derived|type"] = "integer",
        ["derived|title"] = "Second",
        ["derived|sql"] = "spo2_pre < 91",
        ["section|id"] = "second",
        ["section|title"] = "Second",
        ["section|question"] = "And now?",
        ["section compare|by"] = "adult",
        ["section agreement|id"] = "second",
        ["section agreement|title"] = "Second",
        ["section agreement|first"] = "the form",
        ["section agreement|second"] = "the form",
        ["section agreement|answers"] = "[{title: A, first: adult, second: adult}, {title: B, first: not adult, second: not adult}]",
        ["section answers|title"] = "Second",
        ["section answers|first"] = "adult",
        ["section answers|second"] = "adult",
        ["change|date"] = "2025-02-01",
        ["change|what"] = "Second",
        ["change|measures"] = "[hypotension]",
        ["change|expect"] = "down",
        ["change|judged_after"] = "18",
        ["change|judged_at_cases"] = "200",
        ["change|why"] = "Second",
        ["action|id"] = "second",
        ["action|what"] = "Second",
        ["action|owner"] = "airway lead",
        ["action|due"] = "2026-02-16",
        ["action|opened"] = "2026-01-14",
        ["action closes|closes"] = "2026-01-ABCDEF-2",
        ["action closes|closed"] = "2026-03-01",
        ["minutes|month"] = "\"2025-12\"",
        ["minutes|held"] = "\"2026-02-11\"",
        ["minutes cases|id"] = "\"ABCDEG\"",
        ["minutes actions|id"] = "\"2026-01-ABCDEF-2\"",
        ["minutes actions|what"] = "\"Second\"",
        ["minutes actions|owner"] = "\"lead nurse\"",
        ["minutes actions|due"] = "\"2026-04-01\"",
        ["minutes closed|id"] = "\"second\"",
        ["minutes closed|closed"] = "\"2026-02-09\"",
        ["minutes closed|effect"] = "\"Second\"",
        ["fields field|name"] = "\"hands\"",
        ["fields field|type"] = "\"number\"",
        ["fields field|outcomes:identifying"] = "\"quasi\"",
        ["fields field|outcomes:decimals"] = "2",
        ["fields field|outcomes:allowed"] = "[\"suction\"]",
        ["fields categories|value"] = "\"above\"",
        ["fields missingValues|value"] = "\"not known\"",
        ["fields missingValues|label"] = "\"withheld\"",
    };

    private readonly DefinitionFolder _folder = new();

    /// <summary>Every kind of the page but the file of counts, which is an input and no definition.</summary>
    public static TheoryData<string> Kinds => [.. PipelinePage.Rows.Select(row => row.Kind).Distinct().Where(kind => kind != "counts")];

    public void Dispose() => _folder.Dispose();

    [Theory]
    [MemberData(nameof(Kinds))]
    public void The_hash_moves_with_every_key_that_can_change_a_figure_or_a_sentence(string kind)
    {
        var rows = PipelinePage.Rows.Where(row => row.Kind == kind).ToArray();
        Pair[] required = [.. rows.Where(row => row.IsRequired).Select(row => new Pair(row.Key, row.Example))];
        foreach (var row in rows)
        {
            var name = $"{kind}|{row.Key}";
            Pair[] others = [.. required.Where(pair => pair.Key != row.Key)];
            if (Fixed.Contains(name))
            {
                Assert.Throws<Failure>(() => _folder.Load(kind, [.. others, new Pair(row.Key, "\"other\"")]));
                continue;
            }

            var first = _folder.Load(kind, [.. others, new Pair(row.Key, row.Example)]);
            var second = _folder.Load(kind, Second.TryGetValue(name, out var value) ? [.. others, new Pair(row.Key, value)] : others);
            Assert.True(first == second == Still.Contains(name), $"{name}: the hash {(first == second ? "stays" : "moves")}");
        }
    }

    [Fact]
    public void Every_exception_of_these_tests_is_a_key_of_the_page()
    {
        var names = PipelinePage.Rows.Select(row => $"{row.Kind}|{row.Key}").ToHashSet();
        Assert.Subset(names, Still.Concat(Fixed).Concat(Second.Keys).ToHashSet());
    }

    [Fact]
    public void The_hash_stays_when_the_folder_the_comments_and_the_lines_change()
    {
        using var other = new DefinitionFolder();
        _folder.Reset();
        other.Reset();
        foreach (var file in (string[])["pipeline.yaml", "mapping.yaml", "flags.yaml", "consistency.yaml", "changes.yaml", "actions.yaml",
            "measures/awake_first_pass.yaml"])
            other.Write(file, $"# A comment.\n\n{other.Read(file).Replace("\n", "\n\n", StringComparison.Ordinal)}");
        other.Write("fields.json", "\n" + other.Read("fields.json").Replace(": ", " :  ", StringComparison.Ordinal));
        Assert.NotEqual(_folder.Read("flags.yaml"), other.Read("flags.yaml"));
        Assert.Equal(_folder.Hash(), other.Hash());
    }

    [Fact]
    public void The_hash_stays_when_keys_stand_in_another_order()
    {
        foreach (var kind in Kinds.Select(row => row.Data))
        {
            // Keys that can stand together: those that are required, and the first that is not.
            var rows = PipelinePage.Rows.Where(row => row.Kind == kind).ToArray();
            Pair[] pairs = [.. rows.Where(row => row.IsRequired).Concat(rows.Where(row => !row.IsRequired).Take(1))
                .Select(row => new Pair(row.Key, row.Example))];
            Assert.True(_folder.Load(kind, pairs) == _folder.Load(kind, pairs.Reverse()), kind);
        }
    }

    [Fact]
    public void The_hash_stays_when_a_file_has_another_name_and_when_a_pattern_finds_more_files()
    {
        _folder.Reset();
        var before = _folder.Hash();
        _folder.Write("alerts.yaml", _folder.Read("flags.yaml"));
        _folder.Write("pipeline.yaml", _folder.Read("pipeline.yaml").Replace("flags.yaml", "alerts.yaml", StringComparison.Ordinal));
        Assert.Equal(before, _folder.Hash());
        _folder.Write("export-1.csv", "");
        _folder.Write("export-2.csv", "");
        _folder.Write("pipeline.yaml", _folder.Read("pipeline.yaml").Replace("export.csv", "export-*.csv", StringComparison.Ordinal));
        Assert.Equal(before, _folder.Hash());
    }

    // Values that run together when their texts are simply joined: each pair here had one text so.
    [Fact]
    public void Different_definitions_have_different_texts()
    {
        Assert.NotEqual(Text(new[] { "a,b" }), Text(new[] { "a", "b" }));
        Assert.NotEqual(Text(new[] { "a", "" }), Text(new[] { "a" }));
        Assert.NotEqual(Text(""), Text(null));
        Assert.NotEqual(Text("1"), Text(1));
        Assert.NotEqual(Text("a\",\"b"), Text(new[] { "a", "b" }));
        Assert.NotEqual(Text(new Interval(1, null)), Text(new Interval(null, 1)));
        Assert.NotEqual(Text(new Dictionary<string, string> { ["a"] = "b: c" }), Text(new Dictionary<string, string> { ["a: b"] = "c" }));
    }

    [Fact]
    public void Equal_definitions_have_one_text()
    {
        Assert.Equal("""{"x":{"Maximum":20,"Minimum":1.5}}""", Text(new Interval(1.50m, 20.00m)));
        Assert.Equal("""{"x":{"a":"1","b":"2"}}""", Text(new Dictionary<string, string> { ["b"] = "2", ["a"] = "1" }));
        Assert.Equal("""{"x":[0.05,"2023-04","2026-03-31",true,"Quasi"]}""",
            Text(new object[] { 0.05, new Month(2023, 4), new DateOnly(2026, 3, 31), true, Identifying.Quasi }));
    }

    // TimeSpan and float have no text that was agreed on: a definition that held one would be hashed by chance.
    [Fact]
    public void A_type_without_a_canonical_form_is_an_error()
    {
        Assert.Throws<InvalidOperationException>(() => Text(TimeSpan.Zero));
        Assert.Throws<InvalidOperationException>(() => Text(1f));
    }

    [Fact]
    public void What_is_left_out_is_there_and_has_a_reason()
    {
        foreach (var each in DefinitionsHash.LeftOut)
        {
            Assert.True(each.Why.Length > 10, each.Why);
            Assert.NotEmpty(each.Properties);
            Assert.All(each.Properties, name => Assert.NotNull(each.Of.GetProperty(name, BindingFlags.Public | BindingFlags.Instance)));
        }

        var all = DefinitionsHash.LeftOut.SelectMany(each => each.Properties.Select(name => $"{each.Of.Name}.{name}")).ToArray();
        Assert.Equal(all.Distinct(), all);
    }

    // What a meeting found stands in minutes; a report follows what it decided, and repeats what it learned.
    private static IEnumerable<string> WithoutSentence(string kind) =>
        PipelinePage.Rows.Where(row => row.Kind == kind).Select(row => $"{kind}|{row.Key}");

    private static string Text(object? value) => Encoding.UTF8.GetString(DefinitionsHash.Canonical(new DefinitionPart("x", value)).Span);
}
