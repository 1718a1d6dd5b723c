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
        Assert.Contains(PageIntervalTables.Markdown(Rows), StudyFile.Read("page-intervals.md"), StringComparison.Ordinal);

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

    // Fewer departments from the same seed find about the same: three standard errors of the difference of two shares near 95 %.
    [Fact]
    public void A_tenth_of_the_departments_finds_what_the_rows_say()
    {
        foreach (var (here, there) in PageIntervalStudy.Rows(400).Zip(Rows))
        {
            Assert.Equal(there.Split(',')[..4], here.Split(',')[..4]);
            Assert.InRange(Coverage(here), Coverage(there) - 6, Coverage(there) + 6);
        }
    }

    private static double Coverage(string row) => double.Parse(row.Split(',')[^1], CultureInfo.InvariantCulture);
}
