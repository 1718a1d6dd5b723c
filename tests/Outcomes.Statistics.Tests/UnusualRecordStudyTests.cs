using Outcomes.Studies.Signals;
using Outcomes.Studies.UnusualRecords;

namespace Outcomes.Tests;

/// <summary>The study of unusual records: its committed rows, and the page made from them.</summary>
public class UnusualRecordStudyTests
{
    private static readonly UnusualRow[] Rows =
        [.. StudyFile.Read("unusual-records-study.csv").Split('\n', StringSplitOptions.RemoveEmptyEntries).Skip(1)
            .Select(UnusualRow.Parse)];

    [Fact]
    public void The_page_on_unusual_records_shows_the_committed_rows() =>
        Assert.Equal(UnusualTables.Markdown(Rows), StudyTables.OfPage(StudyFile.Read("unusual-records.md")));

    [Theory]
    [InlineData("fuller", 500)]
    [InlineData("fuller", 2_000)]
    [InlineData("as invented", 500)]
    [InlineData("as invented", 2_000)]
    public void From_500_records_on_the_search_adds_to_the_rules_and_finds_at_most_1_clean_record_in_200(string export, int records)
    {
        UnusualRow Of(string figure, string kind) => Rows.Single(row => row.Part == "search" && row.Export == export
            && row.Records == records && row.Figure == figure && row.Kind == kind);
        var (alone, both, wrong) = (Of("rules", "all"), Of("rules or search", "all"), Of("false alarms", "none"));
        Assert.True(both.Share - alone.Share > 0.10, $"{alone.Share} to {both.Share}");
        Assert.True(wrong.Share <= 0.005 + (2 * wrong.Error), $"{wrong.Share}");
    }
}
