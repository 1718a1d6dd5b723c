using Outcomes.Analysis;
using Outcomes.Records;
using Outcomes.Reporting;

namespace Outcomes.Tests.Reporting;

public sealed class SiteMonthWordingTests
{
    private static readonly Month January = new(2026, 1);

    [Fact]
    public void Round_saturations_are_told_by_quarter_and_site()
    {
        Assert.StartsWith("2026 Q1, site N: 12 of 25 values", Explain(SiteMonth.DigitPreference, new("N"), January, 12, 25),
            StringComparison.Ordinal);
        Assert.StartsWith("2026 Q4, other sites together: 9 of 20 values",
            Explain(SiteMonth.DigitPreference, SiteGroup.Others, new(2026, 10), 9, 20), StringComparison.Ordinal);
    }

    [Fact]
    public void No_complication_tells_how_far_chance_goes()
    {
        // 0 of 30: Wilson's upper end 3.8415 / 33.8415 = 11.4 %; 0.9 to the power of 30 = 4.2 %.
        var said = SiteMonthWording.Explain(new(SiteMonth.NoComplication, "complication", SiteGroup.All, January, 0, 30)
        {
            HighestRate = 0.1135,
            ChanceAtOneInTen = 0.0424
        });
        Assert.StartsWith("2026-01: no complication in 30 records.", said, StringComparison.Ordinal);
        Assert.Contains("11.4 % (upper end", said, StringComparison.Ordinal);
        Assert.Contains("4.2 % of months", said, StringComparison.Ordinal);
    }

    [Fact]
    public void A_code_shift_names_the_value_and_both_months_counts() =>
        Assert.StartsWith("2026-01: `ed` in 15 of 20, the month before in 5 of 21;",
            SiteMonthWording.Explain(
                new(SiteMonth.CodeShift, "location_type", SiteGroup.All, January, 15, 20) { Level = "ed", Before = (5, 21) }),
            StringComparison.Ordinal);

    private static string Explain(string rule, SiteGroup site, Month month, long seen, long known) =>
        SiteMonthWording.Explain(new(rule, "spo2_min", site, month, seen, known));
}
