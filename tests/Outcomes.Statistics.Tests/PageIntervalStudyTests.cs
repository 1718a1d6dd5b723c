using System.Globalization;
using Outcomes.Studies.Coverage;

namespace Outcomes.Tests;

/// <summary>How often the intervals of pages hold where months vary: the committed rows and the page made from them.</summary>
public class PageIntervalStudyTests
{
    private static readonly string[] Rows =
        [.. StudyFile.Read("page-intervals-study.csv").Split('\n', StringSplitOptions.RemoveEmptyEntries).Skip(1)];

    [Fact]
    public void The_page_shows_the_committed_rows() =>
        Assert.All(
            (string[])
            [
                PageIntervalTables.Markdown(Rows.Where(row => !IsLevel(row))),
                PageIntervalTables.Markdown(Rows.Where(IsLevel), "level of a stratum", LevelIntervalStudy.Prefix),
            ],
            table => Assert.Contains(table, StudyFile.Read("page-intervals.md"), StringComparison.Ordinal));

    [Fact]
    public void The_intervals_that_allow_for_months_hold_in_93_of_100_and_the_plain_year_does_not()
    {
        Assert.All(Rows.Where(row => row.StartsWith("month,", StringComparison.Ordinal)
            || row.StartsWith("planned evaluation,", StringComparison.Ordinal)
            || row.StartsWith("difference of parts,", StringComparison.Ordinal)),
            row => Assert.True(Coverage(row) >= 93, row));
        Assert.All(Rows.Where(row => row.StartsWith("12 months,", StringComparison.Ordinal)), row => Assert.True(Coverage(row) >= 93, row));
        Assert.Contains(Rows, row => row.StartsWith("12 months plain,", StringComparison.Ordinal) && Coverage(row) < 85);
    }

    [Fact]
    public void The_interval_of_a_level_holds_in_93_of_100_and_neither_the_plain_one_nor_that_of_its_own_months_does()
    {
        string[] levels = [.. Rows.Where(IsLevel)];
        Assert.Equal(LevelIntervalStudy.Levels.Length * 3 * 3 * 2 * 3, levels.Length);
        bool Is(string row, string kind) => row.Split(',')[0].EndsWith(kind, StringComparison.Ordinal);
        double[] printed = [.. levels.Where(row => !Is(row, LevelIntervalStudy.Plain) && !Is(row, LevelIntervalStudy.OwnMonths))
            .Select(Coverage)];
        Assert.All(printed, coverage => Assert.True(coverage >= 93));
        Assert.Contains(string.Create(CultureInfo.InvariantCulture,
            $"The printed interval holds in {printed.Min():0.0} to {printed.Max():0.0} of 100"), StudyFile.Read("page-intervals.md"),
            StringComparison.Ordinal);
        Assert.Contains(levels, row => Is(row, LevelIntervalStudy.Plain) && Coverage(row) < 70);
        Assert.Contains(levels, row => Is(row, LevelIntervalStudy.OwnMonths) && Coverage(row) < 90);
    }

    // Fewer departments from the same seed find about the same: three standard errors of the difference of two shares near 95 %.
    [Fact]
    public void A_tenth_of_the_departments_finds_what_the_rows_say()
    {
        foreach (var (here, there) in PageIntervalStudy.Rows(400).Concat(LevelIntervalStudy.Rows(400))
            .Zip(Rows, (here, there) => (here, there)))
        {
            Assert.Equal(there.Split(',')[..4], here.Split(',')[..4]);
            // A plain interval that holds in two of three has an error of 2.4 points here.
            var most = Coverage(there) < 90 ? 8 : 6;
            Assert.InRange(Coverage(here), Coverage(there) - most, Coverage(there) + most);
        }
    }

    private static bool IsLevel(string row) => row.StartsWith(LevelIntervalStudy.Prefix, StringComparison.Ordinal);

    private static double Coverage(string row) => double.Parse(row.Split(',')[^1], CultureInfo.InvariantCulture);
}
