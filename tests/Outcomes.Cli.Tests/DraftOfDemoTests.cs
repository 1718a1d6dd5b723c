using Outcomes.Cli.Definitions;
using Outcomes.Cli.Drafting;
using Outcomes.Ingestion.Formats;
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
        var draft = MappingDraft.Of(Assert.Single(DraftSource.Of(InRoot("synthetic-data", export), null, Vocabulary.Shipped)),
            "mapping.yaml", [], FieldDictionary.Shipped, Vocabulary.Shipped);
        Assert.Equal(attempts, draft.Mapped.Any(field => field.Name == "attempt_no"));
        var path = Path.GetTempFileName();
        File.WriteAllText(path, draft.Text.ToString());
        var drafted = MappingFile.Read(path, "mapping.yaml");
        File.Delete(path);
        // What is derived from a heading is a second reading of it: which public holidays there are, no draft knows.
        var expected = MappingFile.Read(InRoot("pipelines", "mappings", byHand), byHand).Columns.Where(column => column.Derive is null)
            .ToDictionary(column => column.Column);
        Assert.All(drafted.Columns, column => Assert.Equal(expected[column.Column].Field, column.Field));
        Assert.All(drafted.Columns,
            column => Assert.Equal((expected[column.Column].Pattern, expected[column.Column].Unit), (column.Pattern, column.Unit)));
        Assert.All(drafted.Columns, column => Assert.All(column.Codes,
            code => Assert.Equal(expected[column.Column].Codes.GetValueOrDefault(code.Key, code.Value), code.Value)));
        Assert.True(drafted.Columns.Length >= 0.85 * expected.Count, $"{drafted.Columns.Length} of {expected.Count}");
    }

    // The comparison file has fields of its own for most columns: a column may be left open, but none may be taken for what it is not.
    [Fact]
    public void Columns_of_an_export_with_other_fields_are_left_open_rather_than_mapped_wrongly()
    {
        Dictionary<string, string> right = new()
        {
            ["record_id"] = "record_id",
            ["occurred_on"] = "event_date",
            ["site"] = "site_code",
            ["unit"] = "unit_code",
            ["attempts"] = "attempts_total",
            ["first_attempt_success"] = "first_pass_success",
            ["plan_reached"] = "final_plan",
            ["spo2_before"] = "spo2_pre",
            ["spo2_lowest"] = "spo2_min",
            ["sbp_before"] = "sbp_pre",
            ["sbp_lowest"] = "sbp_min",
            ["preox_minutes"] = "preox_min",
            ["age_band"] = "age_band",
            ["sex"] = "sex",
            ["preox_method"] = "preox_method",
            ["apnoeic_oxygen"] = "apnoeic_oxygenation",
            ["induction_agent"] = "induction_agent",
            ["relaxant"] = "nmba",
            ["predicted_difficult"] = "difficulty_predicted",
            ["etco2_first_kpa"] = "etco2_first",
            ["oesophageal"] = "oesophageal",
        };
        var sample = ExportSample.Read(InRoot("synthetic-data", "baseline-500.csv"), "baseline-500.csv");
        var columns = sample.Headings.Select((heading, i) => ColumnProfile.Of(sample, heading, i)).ToList();
        var proposals = Proposer.Propose(columns, FieldDictionary.Shipped.Of(FieldDictionary.Procedure), Vocabulary.Shipped);
        Assert.All(proposals.Where(proposal => proposal.Field is not null),
            proposal => Assert.Equal(right.GetValueOrDefault(proposal.Column.Heading, "(open)"), proposal.Field!.Name));
        Assert.Equal(right.Count, proposals.Count(proposal => proposal.Field is not null));
    }

    private static string InRoot(params string[] parts)
    {
        var folder = AppContext.BaseDirectory;
        while (!File.Exists(Path.Combine(folder, "Outcomes.sln"))) folder = Path.GetDirectoryName(folder)!;
        return Path.Combine([folder, .. parts]);
    }
}
