using System.Collections.Immutable;
using System.Text;
using Outcomes.Analysis;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Measures.Review;
using Outcomes.Records;
using Outcomes.Reporting.Cases;

namespace Outcomes.Tests.Reporting.Page;

public sealed class CasesTests
{
    [Theory]
    [InlineData("15", "0-15")]
    [InlineData("16", "16-29")]
    [InlineData("59", "45-59")]
    [InlineData("60", "60-74")]
    [InlineData("89", "75-89")]
    [InlineData("90", "90+")]
    public void An_age_becomes_its_band(string age, string band)
    {
        var shown = CaseColumns.Shown(Record(("age_years", age)), FieldDictionary.Shipped);
        Assert.Equal([KeyValuePair.Create(CaseColumns.AgeBand, band)], shown);
        var facts = CaseFacts.Known(Case() with { Values = shown }, Pack(Case())).SelectMany(group => group.Facts).ToArray();
        Assert.Equal(new CaseFact("Age band", FieldDictionary.Shipped.Find(FieldDictionary.Procedure, "age_band")!.Labels[band]),
            Assert.Single(facts));
    }

    [Theory]
    [InlineData("record_id")]
    [InlineData("site_code")]
    [InlineData("event_date")]
    [InlineData("event_time")]
    [InlineData("age_years")]
    [InlineData("narrative")]
    [InlineData("as_of")]
    public void A_flag_that_asks_for_an_identifying_field_does_not_get_its_value(string field)
    {
        Assert.Empty(CaseColumns.Shown(Record((field, "40")), FieldDictionary.Shipped).Remove(CaseColumns.AgeBand));
        var fact = CaseFacts.Fact(Pack(Case()), field, "a value");
        Assert.Equal("not shown", fact.Value);
    }

    [Theory]
    // Forty seconds, kept in minutes as the nearest double; and values as they were typed.
    [InlineData("preox_min", "0.6666666666666667", "0.67 min")]
    [InlineData("preox_min", "3.5", "3.5 min")]
    [InlineData("spo2_pre", "88", "88 %")]
    public void A_measurement_has_no_more_digits_than_a_person_reads(string field, string value, string read) =>
        Assert.Equal(read, CaseFacts.Fact(Pack(Case()), field, value).Value.Replace('\u00A0', ' '));

    [Fact]
    public void A_plan_keeps_its_capital_letter() =>
        Assert.Equal("Plan D used", CaseFacts.Fact(Pack(Case()), "plan_d_used", "yes").Title);

    [Fact]
    public void No_column_that_pages_ask_for_may_identify_but_the_age_behind_the_band() =>
        Assert.Equal(["age_years"], CaseColumns.Asked(FieldDictionary.Shipped)
            .Where(column => !CaseColumns.MayShow(FieldDictionary.Shipped, column)));

    [Fact]
    public void Without_times_or_trace_nothing_is_drawn_and_the_page_says_so()
    {
        var page = Page(Case());
        Assert.DoesNotContain("<svg", page, StringComparison.Ordinal);
        Assert.Contains("the scale would be invented", page, StringComparison.Ordinal);
    }

    [Fact]
    public void A_trace_is_drawn_to_scale_and_a_gap_breaks_its_line()
    {
        // Ten minutes over 704 units from 56 on: minute 5 stands at 408.
        var page = Page(Case() with { Signals = [new("spo2", [(0, 100), (300, 90), (300, double.NaN), (540, 90), (600, 100)], 0)] });
        Assert.Contains("56,18 408,128", page, StringComparison.Ordinal);
        Assert.Contains("689.6,128 760,18", page, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_case_says_that_it_is_confidential_and_has_the_eight_heads_to_fill_in()
    {
        var page = Page(Case());
        Assert.Equal(3, page.Split("Confidential: review cases").Length - 1);
        Assert.All(new[]
        {
            "Patient", "Task", "Person", "Team", "Equipment", "Place", "Organisation", "Outside", "Learning point", "Signed off",
            "Nothing more"
        },
            head => Assert.Contains(head, page, StringComparison.Ordinal));
    }

    [Fact]
    public void Flags_below_the_highest_tier_share_one_line_with_their_values()
    {
        var page = Page(Case() with
        {
            Values = ImmutableDictionary<string, string>.Empty.Add("spo2_min", "88"),
            Flags =
            [
                .. Case().Flags, new("fell", Tier.Three, "x") { Title = "Fell", Why = "Not told.", Shows = ["spo2_min"] },
                new("again", Tier.Three, "x") { Title = "Again", Why = "Nor this." },
            ],
        });
        Assert.Contains("Below that tier: Fell <code>fell</code> (Lowest SpO2: 88\u00a0%) · Again <code>again</code> ()", page,
            StringComparison.Ordinal);
        Assert.DoesNotContain("Not told.", page, StringComparison.Ordinal);
    }

    [Fact]
    public void A_pack_for_another_audience_is_refused() =>
        Assert.Throws<Failure>(() => CasesPage.Utf8(Pack(Case()) with { Audience = Audience.Network }));

    private static string Page(ReviewCase only) => Encoding.UTF8.GetString(CasesPage.Utf8(Pack(only)));

    private static CasePack Pack(ReviewCase only) =>
        new() { PipelineName = "harbour-demo", Month = new Month(2026, 3), Invented = true, Version = "0", Records = 12, Cases = [only] };

    private static ReviewCase Case() =>
        new("ABC234", CaseKind.One, [new("death_24h", Tier.One, "x") { Title = "Death", Why = "Why.", Shows = ["death_24h"] }])
        {
            HasPage = true
        };

    private static JudgedRecord Record(params (string Name, string Value)[] values) =>
        new(0, 0, "r", [], values.ToImmutableDictionary(pair => pair.Name, pair => pair.Value));
}
