using Outcomes.Studies.CaseMix;
using Outcomes.Studies.Signals;

namespace Outcomes.Tests;

/// <summary>The study of case mix: its committed rows, and the page made from them.</summary>
public class CaseMixStudyTests
{
    private static readonly CaseMixRow[] Rows =
        [.. StudyFile.Read("case-mix-study.csv").Split('\n', StringSplitOptions.RemoveEmptyEntries).Skip(1).Select(CaseMixRow.Parse)];

    [Fact]
    public void The_page_on_case_mix_shows_the_committed_rows() =>
        Assert.Equal(CaseMixTables.Markdown(Rows), StudyTables.OfPage(StudyFile.Read("case-mix.md")));

    [Fact]
    public void Where_missing_is_no_level_an_independent_study_found_the_same_with_other_seeds()
    {
        foreach (var (here, there) in CaseMixTables.Compared(Rows).Where(pair => pair.Here.Rule != MissingField.Level))
        {
            // Three standard errors of the difference, of 1,500 departments there; a share of 0 or 1 in 500 has none, so that a point more.
            var error = Math.Sqrt((here.Error * here.Error) + (there * (1 - there) / 1_500));
            Assert.InRange(here.Share, there - (3 * error) - 0.01, there + (3 * error) + 0.01);
        }
    }

    [Fact]
    public void A_level_for_missing_hides_and_invents_changes_and_the_rule_does_neither()
    {
        CaseMixRow Of(string cell, string rule, string figure) => Rows.Single(row =>
            row.Cell == cell && row.Rule == rule && row.Figure == figure && row.Test == CaseMixStudy.Tests[1].Name);
        Assert.True(Of("8 to 60 % at random; same care", MissingField.Level, "false better by 36").Share > 0.2);
        Assert.True(Of("8 to 60 % at random; same care", MissingField.Rule, "false better by 36").Share < 0.01);
        Assert.True(Of("8 to 60 % at random; doubled odds", MissingField.Rule, "worse within 12").Share
            > Of("8 to 60 % at random; doubled odds", MissingField.Level, "worse within 12").Share + 0.15);
    }

    [Fact]
    public void A_field_is_said_to_have_moved_when_it_did_and_seldom_otherwise()
    {
        foreach (var row in Rows.Where(row => row.Figure == "moved falsely in the first year"))
            Assert.InRange(row.Share, 0, 0.05);
        foreach (var row in Rows.Where(row => row.Figure == "moved within 12 months"
            && !row.Cell.StartsWith("8 to 8 ", StringComparison.Ordinal)))
            Assert.InRange(row.Share, 0.98, 1);
    }

    [Fact]
    public void Intervals_with_the_models_error_hold_the_ratio_in_93_of_100_or_more_and_those_without_do_not()
    {
        CaseMixRow[] years = [.. Rows.Where(row => row.Part == RatioCoverage.Part && row.Figure == "a year")];
        Assert.Equal(24, years.Length);
        Assert.All(years.Where(row => row.Rule == RatioCoverage.WithError), row => Assert.True(row.Share >= 0.93, row.Line));
        Assert.All(Rows.Where(row => row.Figure == RatioCoverage.Month), row => Assert.True(row.Share >= 0.93, row.Line));
        Assert.All(years.Where(row => row.Rule == RatioCoverage.Plain), row => Assert.True(row.Share < 0.94, row.Line));
    }

    [Fact]
    public void The_model_decides_better_than_the_counts_where_the_mix_moved_and_costs_little_where_it_tells_nothing()
    {
        double Share(string cell, string rule) => Rows.Single(row => row.Part == DecidingModel.Part && row.Rule == rule
            && row.Test == CaseMixStudy.Tests[1].Name && row.Cell.StartsWith(cell, StringComparison.Ordinal)).Share;
        Assert.True(Share("10 a month; spread 0.6; mix moved by 0.7", DecidingModel.Counts) > 0.10);
        Assert.All(Rows.Where(row => row.Part == DecidingModel.Part && row.Rule == DecidingModel.Model && row.Figure == "any signal by 36"),
            row => Assert.InRange(row.Share, 0, 0.05));
    }

    [Fact]
    public void A_cell_drawn_again_gives_its_committed_rows_seed()
    {
        var again = RatioCoverage.Rows(RatioCoverage.Kinds[0], 60, CaseMixStudy.Seed).ToArray();
        Assert.Equal(Rows.First(row => row.Part == RatioCoverage.Part).Seed, again[0].Seed);
        // Of 60 years 95 %, less four standard errors.
        Assert.True(again[0].Share > 0.83, again[0].Line);
    }
}
