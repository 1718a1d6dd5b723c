using System.Collections.Immutable;
using System.Reflection;
using System.Text.RegularExpressions;
using Outcomes.Ingestion;
using Outcomes.Measures.Yaml;
using Outcomes.Records;

namespace Outcomes.Tests.Cli;

/// <summary>docs/pipeline.md against the parsers: the lists of keys by which they refuse others, and the refusals themselves.</summary>
public sealed partial class PipelinePageTests : IDisposable
{
    private static readonly Dictionary<string, ImmutableArray<string>> Parsers = KeysOfParsers();

    private readonly DefinitionFolder _folder = new();

    public static TheoryData<string> Kinds => [.. Parsers.Keys.Order(StringComparer.Ordinal)];

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void The_page_has_a_table_for_every_kind_of_map_and_no_other() =>
        Assert.Equal(Parsers.Keys.Order(StringComparer.Ordinal), PipelinePage.Rows.Select(row => row.Kind).Distinct()
            .Order(StringComparer.Ordinal));

    [Theory]
    [MemberData(nameof(Kinds))]
    public void The_table_of_a_kind_holds_exactly_the_keys_that_its_parser_accepts(string kind) =>
        Assert.Equal(Parsers[kind].Order(StringComparer.Ordinal), RowsOf(kind).Select(row => row.Key).Order(StringComparer.Ordinal));

    [Theory]
    [MemberData(nameof(Kinds))]
    public void The_parser_refuses_another_key_and_names_those_of_the_page(string kind)
    {
        var failure = Assert.Throws<Failure>(() => _folder.Load(kind, [.. Required(kind), new Pair("zz_unknown", "1")]));
        var named = Named().Match(failure.Message).Groups["keys"].Value.Split(", ");
        // A field's keys depend on its type; the message names those of the type at hand.
        if (kind is "fields field" or "fields constraints")
            Assert.Subset(RowsOf(kind).Select(row => row.Key).ToHashSet(), named.ToHashSet());
        else
            Assert.Equal(RowsOf(kind).Select(row => row.Key).Order(StringComparer.Ordinal), named.Order(StringComparer.Ordinal));
    }

    [Theory]
    [MemberData(nameof(Kinds))]
    public void Every_example_in_a_table_loads(string kind)
    {
        foreach (var row in RowsOf(kind))
            Assert.Null(Record.Exception(() => _folder.Load(kind, With(kind, row.Key, row.Example))));
    }

    [Theory]
    [MemberData(nameof(Kinds))]
    public void A_required_key_is_missed(string kind)
    {
        foreach (var row in RowsOf(kind).Where(row => row.IsRequired))
            Assert.Throws<Failure>(() => _folder.Load(kind, [.. Required(kind).Where(pair => pair.Key != row.Key)]));
    }

    [Theory]
    [MemberData(nameof(Kinds))]
    public void A_default_written_out_changes_nothing(string kind)
    {
        foreach (var row in RowsOf(kind).Where(row => row.DefaultValue is not null))
            Assert.True(_folder.Load(kind, Required(kind)) == _folder.Load(kind, With(kind, row.Key, row.DefaultValue!)),
                $"{kind}, {row.Key}");
    }

    [Fact]
    public void The_files_on_the_page_are_a_pipeline_that_loads()
    {
        string[] kinds =
        [
            "action", "change", "counts", "derived", "fields", "flag", "mapping", "measure", "minutes", "pipeline", "question", "rule",
            "section",
        ];
        Assert.Equal(kinds, PipelinePage.Blocks.Select(block => block.Kind).Order(StringComparer.Ordinal));
        _folder.Reset();
        Assert.Equal(64, _folder.Hash().Length);
        Assert.Empty(CountsFile.Read(Path.Combine(_folder.Path, "tubes-issued.csv"), "tubes-issued.csv").Findings);
        Assert.Single(Measures.Catalogue.DerivedFile.Read(YamlFile.ReadPath(Path.Combine(_folder.Path, "derived.yaml"), "derived.yaml")));
    }

    // form.yaml and synonyms.yaml travel with the tool and explain themselves; every other parser states its keys as YamlKeys.
    [Fact]
    public void No_parser_of_an_edited_file_names_its_keys_in_passing()
    {
        var source = Path.Combine(PipelinePage.RepositoryFolder(), "src");
        var passing = Directory.EnumerateFiles(source, "*.cs", SearchOption.AllDirectories)
            .Where(file => Passing().IsMatch(File.ReadAllText(file))).Select(file => Path.GetFileName(file)).Order(StringComparer.Ordinal);
        Assert.Equal(["FormPlan.cs", "Vocabulary.cs"], passing);
    }

    private static IEnumerable<KeyRow> RowsOf(string kind) => PipelinePage.Rows.Where(row => row.Kind == kind);

    private static IEnumerable<Pair> Required(string kind) =>
        RowsOf(kind).Where(row => row.IsRequired).Select(row => new Pair(row.Key, row.Example));

    private static IEnumerable<Pair> With(string kind, string key, string value) =>
        Required(kind).Where(pair => pair.Key != key).Append(new Pair(key, value));

    private static Dictionary<string, ImmutableArray<string>> KeysOfParsers()
    {
        var keys = Directory.EnumerateFiles(AppContext.BaseDirectory, "*utcomes*.dll")
            .Select(file => Path.GetFileNameWithoutExtension(file))
            .Where(name => !name.EndsWith(".Tests", StringComparison.Ordinal)).SelectMany(name => Assembly.Load(name).GetTypes())
            .SelectMany(type => type.GetFields(BindingFlags.Static | BindingFlags.Public | BindingFlags.NonPublic))
            .Where(field => field.FieldType == typeof(YamlKeys))
            .Select(field => (YamlKeys)field.GetValue(null)!).ToDictionary(each => each.Kind, each => each.Names);
        keys.Add("fields", DictionaryKeys.LocalFile);
        keys.Add("fields tables", DictionaryKeys.Tables);
        keys.Add("fields field",
            [.. DictionaryKeys.Field.Concat(Enum.GetValues<FieldType>().SelectMany(type => DictionaryKeys.FieldOf(type))).Distinct()]);
        keys.Add("fields constraints", [.. Enum.GetValues<FieldType>().SelectMany(type => DictionaryKeys.ConstraintsOf(type)).Distinct()]);
        keys.Add("fields outcomes:plausible", DictionaryKeys.Range);
        keys.Add("fields categories", DictionaryKeys.Category);
        keys.Add("fields missingValues", DictionaryKeys.MissingWord);
        keys.Add("counts", CountsFile.Columns);
        return keys;
    }

    [GeneratedRegex("(known here: |known are |is none of )(?<keys>.+?)(, or stands twice.*)?$", RegexOptions.Singleline)]
    private static partial Regex Named();

    [GeneratedRegex(@"\.Map\(\s*[""\[]")]
    private static partial Regex Passing();
}
