using Outcomes.Analysis;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;
using Outcomes.Reporting;
using Outcomes.Reporting.Page;
using Outcomes.Reporting.Tables;

namespace Outcomes.Tests.Reporting.Tables;

public class CaseMixTableTests
{
    private static readonly Month January = new(2026, 1);

    private static CaseMixFigures Refused => new()
    {
        Measure = Samples.Definition("first_pass", "First-pass success", Direction.Up),
        EventIsNotMet = true,
        From = January,
        To = January,
        Records = 40,
        Events = 6,
        Missing = 2,
        Refused = (3, 15, 4),
        Omitted = [new("bmi", null, OmittedBecause.NotCollected)],
    };

    private static CaseMixFigures Fitted => Refused with
    {
        Refused = null,
        Figures = new()
        {
            Terms =
            [
                new("location_type", "ed", "icu", 20, 4, 0.5, new(0.2, 1.25)),
                new("spo2_<pre>", null, null, 38, 6, 1.02, new(0.9, 1.1))
            ],
            Fields = [new("location_type", ["other", "ward"], false, 3, 1)],
            FullRecords = 37,
            PartModels = 1,
            MeanRecords = 2,
            Auc = new(0.7, new(0.6, 0.8)),
            ApparentAuc = 0.75,
            Intercept = new(0.1, new(-0.2, 0.4)),
            Slope = new(0.8, new(0.3, 1.3)),
            Brier = 0.12,
            BrierOfMean = 0.13,
        },
        Months =
        [
            new(January, January, null, 40, 6, 6, new(1, new(0.366981, 2.17661))) { ExpectedError = 1.25, Cumulative = 0 },
            new(new(2026, 2), new(2026, 2), null, 0, 0, 0, null) { Cumulative = 0 }
        ],
        Year = new(January, new(2026, 2), null, 40, 6, 6, new(1, new(0.366981, 2.17661))) { ExpectedError = 1.25 },
    };

    [Fact]
    public void Expected_has_a_row_a_month_and_one_for_the_year_and_none_where_no_model_is() => Assert.Equal(
        "measure,event,period,site,records,observed,expected,expected_error,value,lower,upper,level_pct,method,"
        + "cumulative\n"
        + "first_pass,not_met,2026-01,all,40,6,6,1.25,1,0.366981,2.17661,95,poisson_model_error,0\n"
        + "first_pass,not_met,2026-02,all,0,0,0,,,,,,,0\n"
        + "first_pass,not_met,2026-01/2026-02,all,40,6,6,1.25,1,0.366981,2.17661,95,poisson_model_error,\n",
        Written(path => ExpectedTable.Write(_ => path, [Fitted, Refused])));

    [Fact]
    public void Models_have_a_row_an_odds_ratio_and_a_refused_one_says_so()
    {
        var lines = Written(path => CaseMixTable.Write(_ => path, [Fitted, Refused])).Split('\n');
        Assert.Equal("first_pass,not_met,model,,,,40,6,,,,,", lines[1]);
        Assert.Equal("first_pass,not_met,odds_ratio,location_type,ed,icu,20,4,0.5,0.2,1.25,95,ridge_posterior", lines[2]);
        Assert.Equal("first_pass,not_met,auc,,,,40,6,0.7,0.6,0.8,95,delong_cross_validated", lines[4]);
        Assert.Equal("first_pass,not_met,refused,,,,40,6,,,,,", lines[^2]);
    }

    [Fact]
    public void The_section_says_what_was_adjusted_for_what_was_not_and_what_it_cannot_do()
    {
        var html = Appendix.Html(Samples.Model() with { CaseMix = [Fitted, Refused] }, []);
        foreach (var said in new[]
        {
            "Location: emergency department against intensive care", "Spo2 &lt;pre&gt;, for each unit more",
            "other, ward pooled as “other”", "later record",
            "not collected: Bmi", "No model.", "would need 15 events",
            "the records with these fields have 4.",
            "What it cannot adjust for", "The odds ratios rest on the 37 records",
            "A record that lacks a field gets its expected chance from the same model",
            "For 2 records, which lack a combination of fields", "The intervals of ratios include the model’s own error"
        })
            Assert.Contains(said, html.Replace(Wording.Space, " ", StringComparison.Ordinal), StringComparison.Ordinal);
        foreach (var unsaid in new[]
        {
            "CUSUM", "reached its limit", "take the expected numbers as exact", "knows these patients only in part", "profile likelihood"
        })
            Assert.DoesNotContain(unsaid, html, StringComparison.Ordinal);
        Assert.DoesNotContain("casemix", Appendix.Html(Samples.Model(), []), StringComparison.Ordinal);
    }

    [Fact]
    public void A_model_that_tells_little_more_than_a_coin_is_said_to_know_these_patients_only_in_part()
    {
        Assert.Contains("The model knows these patients only in part (AUC 0.57).", Html(0.57), StringComparison.Ordinal);
        Assert.DoesNotContain("only in part", Html(0.60), StringComparison.Ordinal);

        static string Html(double auc) => Appendix.Html(Samples.Model() with
        {
            CaseMix = [Fitted with { Figures = Fitted.Figures! with { Auc = new(auc, new(0.5, 0.65)) } }],
        }, []);
    }

    private static string Written(Action<string> write)
    {
        var path = Path.GetTempFileName();
        try
        {
            write(path);
            return File.ReadAllText(path);
        }
        finally
        {
            File.Delete(path);
        }
    }
}
