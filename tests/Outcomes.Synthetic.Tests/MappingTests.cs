using Outcomes.Synthetic;
using YamlDotNet.RepresentationModel;

namespace Outcomes.Tests;

/// <summary>The shipped mapping files and the export say the same thing.</summary>
public class MappingTests
{
    private static readonly Exported Files = Exported.Of(new() { Seed = 21, Procedures = 8_000 });

    /// <summary>Words for a missing value that every field of the dictionary knows.</summary>
    private static readonly string[] DictionaryWords = ["", "unknown", "not_recorded", "withheld", "not_applicable"];

    [Fact]
    public void Every_column_of_procedures_is_mapped_once() => AssertMapped("pipelines/mappings/demo.yaml", Files.Procedures);

    [Fact]
    public void Every_column_of_attempts_is_mapped_once() => AssertMapped("pipelines/mappings/attempts.yaml", Files.Attempts);

    [Fact]
    public void Every_cell_of_procedures_is_translated_but_the_planted_ones()
    {
        var planted = Files.Truth.Planted;
        var allowed = new[] { Plant.UnknownCode, Plant.TextInNumber, Plant.SaturationWithPercent, Plant.DecimalComma, Plant.ImpossibleDate }
            .SelectMany(plant => planted[plant]).ToHashSet();
        var untranslated = Untranslated("pipelines/mappings/demo.yaml", Files.ProcedureRows)
            .Where(x => x.Heading != "Date of procedure").ToList();

        Assert.All(untranslated, x => Assert.Contains(x.Key, allowed));
        Assert.Equal(allowed.Count - planted[Plant.ImpossibleDate].Length, untranslated.Select(x => x.Key).Distinct().Count());
    }

    [Fact]
    public void Every_cell_of_attempts_is_translated() => Assert.Empty(Untranslated("pipelines/mappings/attempts.yaml", Files.AttemptRows));

    [Fact]
    public void Every_code_of_a_mapping_occurs_in_a_long_export()
    {
        // Events that this department was spared.
        Assert.Equal(["Plan D: Failed", "Front of neck worked: N", "Oesophageal: Not seen"],
            UnusedCodes("pipelines/mappings/demo.yaml", Files.ProcedureRows));
        Assert.Empty(UnusedCodes("pipelines/mappings/attempts.yaml", Files.AttemptRows));
    }

    private static void AssertMapped(string file, string text) => Assert.Equal(
        Exported.Cells(text.Split('\n')[0]).Order(StringComparer.Ordinal),
        Columns(file).Select(column => column.Heading).Order(StringComparer.Ordinal));

    private static IEnumerable<(string Key, string Heading, string Cell)> Untranslated(
        string file, List<Dictionary<string, string>> rows) =>
            from column in Columns(file)
            where column.Heading != "Case ref"
            from row in rows
            let cell = row[column.Heading]
            where !column.Words.Contains(cell) && !DictionaryWords.Contains(cell)
            from part in column.Split is { } separator ? cell.Split(separator) : [cell]
            where !column.Words.Contains(part) && !(column.IsPlain && IsPlainValue(part))
            select (row["Case ref"], column.Heading, cell);

    private static IEnumerable<string> UnusedCodes(string file, List<Dictionary<string, string>> rows) =>
        from column in Columns(file)
        let cells = rows.Select(row => row[column.Heading]).Distinct()
            .SelectMany(cell => column.Split is { } s ? cell.Split(s) : [cell]).ToHashSet()
        from code in column.Codes
        where !cells.Contains(code)
        select $"{column.Heading}: {code}";

    /// <summary>A whole number, or a grade of view, which are the dictionary's own spelling.</summary>
    private static bool IsPlainValue(string cell) =>
        int.TryParse(cell, System.Globalization.NumberStyles.AllowLeadingSign, System.Globalization.CultureInfo.InvariantCulture, out _)
            || cell is "2a" or "2b" or "3a" or "3b";

    private sealed record MappedColumn(string Heading, HashSet<string> Words, List<string> Codes, string? Split)
    {
        /// <summary>True when the cells are numbers, or spelled as the dictionary does.</summary>
        public bool IsPlain => Codes.Count == 0 || Heading == "View";
    }

    private static List<MappedColumn> Columns(string file)
    {
        using var reader = File.OpenText(Repository.PathOf(file));
        var yaml = new YamlStream();
        yaml.Load(reader);
        return [.. ((YamlMappingNode)yaml.Documents[0].RootNode["columns"]).Children.Values.Cast<YamlMappingNode>().Select(column =>
        {
            var codes = Keys(column, "codes");
            return new MappedColumn(((YamlScalarNode)column["column"]).Value!, [.. codes, .. Keys(column, "missing")], codes,
                column.Children.TryGetValue("split", out var split) ? ((YamlScalarNode)split).Value : null);
        })];
    }

    private static List<string> Keys(YamlMappingNode column, string name) => column.Children.TryGetValue(name, out var map)
        ? [.. ((YamlMappingNode)map).Children.Keys.Select(key => ((YamlScalarNode)key).Value!)]
        : [];
}
