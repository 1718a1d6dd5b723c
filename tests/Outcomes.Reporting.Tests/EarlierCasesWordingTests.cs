using Outcomes.Analysis;
using Outcomes.Records;
using Outcomes.Reporting;

namespace Outcomes.Tests.Reporting;

/// <summary>What a page says of earlier cases; no two numbers on it differ by one to four, and none is below five.</summary>
public sealed class EarlierCasesWordingTests
{
    [Theory]
    [InlineData(0, 0, "fewer than 5 since April 2023")]
    [InlineData(3, 4, "fewer than 5 since April 2023")]
    [InlineData(3, 9, "fewer than 5 in the 12 months before, 9 since April 2023")]
    [InlineData(6, 9, "6 in the 12 months before, and fewer than 5 before those, since April 2023")]
    [InlineData(6, 6, "6 in the 12 months before, and fewer than 5 before those, since April 2023")]
    [InlineData(6, 11, "6 in the 12 months before, 11 since April 2023")]
    public void Small_numbers_and_differences_are_not_given(long year, long whole, string said) => Assert.Equal(
        $"Earlier cases with the same highest flag (Plan B tried): {said}.",
        Plain(new("Plan B tried", new Month(2023, 4), year, whole, Longer: true)));

    [Theory]
    [InlineData(4, "fewer than 5")]
    [InlineData(5, "5")]
    public void A_short_history_has_one_number(long cases, string said) => Assert.Equal(
        $"Earlier cases with the same highest flag (Plan B tried): {said} since April 2023.",
        Plain(new("Plan B tried", new Month(2023, 4), cases, cases, Longer: false)));

    private static string Plain(EarlierCases earlier) => CaseWording.Earlier(earlier).Replace(Wording.Space, " ", StringComparison.Ordinal);
}
