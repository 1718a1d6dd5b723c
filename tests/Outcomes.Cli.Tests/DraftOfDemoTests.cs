using Outcomes.Cli.Definitions;
using Outcomes.Cli.Drafting;
using Outcomes.Ingestion.Reading;
using Outcomes.Records;

namespace Outcomes.Tests.Cli;

/// <summary>The draft of the demonstration's exports against the mappings that were written by hand.</summary>
public sealed class DraftOfDemoTests
{
    [Theory]
    [InlineData("demo.csv", "demo.yaml", false)]
    [InlineData("attempts.csv", "attempts.yaml", true)]
    public void Nearly_every_column_gets_its_field_and_none_a_wrong_one(string export, string byHand, bool attempts)
    {
        var draft = MappingDraft.Of(ExportSample.Read(InRoot("synthetic-data", export), export), export, attempts, "mapping.yaml", [], FieldDictionary.Shipped, Vocabulary.Shipped);
        var path = Path.GetTempFileName();
        File.WriteAllText(path, draft.Text.ToString());
        var drafted = MappingFile.Read(path, "mapping.yaml");
        File.Delete(path);
        var expected = MappingFile.Read(InRoot("pipelines", "mappings", byHand), byHand).Columns.ToDictionary(column => column.Column);
        Assert.All(drafted.Columns, column => Assert.Equal(expected[column.Column].Field, column.Field));
        Assert.All(drafted.Columns, column => Assert.Equal((expected[column.Column].Pattern, expected[column.Column].Unit), (column.Pattern, column.Unit)));
        Assert.All(drafted.Columns, column => Assert.All(column.Codes, code => Assert.Equal(expected[column.Column].Codes.GetValueOrDefault(code.Key, code.Value), code.Value)));
        Assert.True(drafted.Columns.Length >= 0.85 * expected.Count, $"{drafted.Columns.Length} of {expected.Count}");
    }

    private static string InRoot(params string[] parts)
    {
        var folder = AppContext.BaseDirectory;
        while (!File.Exists(Path.Combine(folder, "Outcomes.sln"))) folder = Path.GetDirectoryName(folder)!;
        return Path.Combine([folder, .. parts]);
    }
}
