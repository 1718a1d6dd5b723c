using Outcomes.CaseMix;

namespace Outcomes.Tests;

public class CaseMixFitTests
{
    private static readonly Dictionary<string, double[]> Births = Data.Columns("birthwt.csv");

    private static CaseMixData Birthwt => new([.. Births["low"].Select(value => value == 1)],
    [
        Covariate.Quantity("lwt", Births["lwt"].Select(value => (double?)value)),
        Covariate.Code("race", Births["race"].Select(value => (string?)$"race {value}")),
    ]);

    [Fact]
    public void The_reduced_model_of_the_textbook_comes_out_of_fields_and_levels()
    {
        // Hosmer and Lemeshow, Table 2.3 (from memory, agreeing with R): race 2 1.081, race 3 0.481, lwt −0.015, constant 0.806.
        var model = CaseMixFit.Fit(Birthwt, new()).Model!;
        Assert.Equal(["lwt:", "race:race 3", "race:race 2"], model.Terms.Select(term => $"{term.Field}:{term.Level}"));
        Assert.Equal("race 1", model.Fields[1].Reference);
        Data.Near([0.806, -0.015, 0.481, 1.081], model.Fit.Coefficients.Select(each => each.Value), 5.01e-4, "coefficient");
        Assert.Equal([67, 26], model.Terms.Skip(1).Select(term => term.Records));
        Assert.Equal(59, model.Expected(Birthwt).Sum(), 7);
    }

    [Fact]
    public void Too_few_events_are_refused_with_the_numbers_that_say_why()
    {
        // 12 of 120 with the event, four columns: 40 are needed.
        var data = Invented(120, i => i % 10 == 0, [("a", i => $"{(i / 10) % 3}"), ("b", i => $"{(i / 30) % 3}")]);
        var fit = CaseMixFit.Fit(data, new());
        Assert.Null(fit.Model);
        Assert.Equal(new Refusal(120, 12, 4, 40), fit.Refusal);
        // Taken as far as events allow, the first field alone already needs 20.
        Assert.Equal(new Refusal(120, 12, 2, 20), CaseMixFit.Fit(data, new() { AsFarAsEventsAllow = true }).Refusal);
    }

    [Fact]
    public void Records_without_the_event_are_counted_when_they_are_the_rarer()
    {
        var data = Invented(120, i => i % 10 != 0, [("a", i => $"{(i / 10) % 3}")]);
        Assert.Equal(12, CaseMixFit.Fit(data, new()).Refusal!.Events);
    }

    [Fact]
    public void Fields_are_taken_in_their_order_until_events_are_used_up()
    {
        // 30 events: a takes one column and b two; c, which would fit alone, does not jump the queue of d.
        var data = Invented(300, i => i % 10 == 3,
            [("a", i => $"{(i / 10) % 2}"), ("d", i => $"{(i / 20) % 5}"), ("c", i => $"{(i / 50) % 2}")]);
        var model = CaseMixFit.Fit(data, new() { AsFarAsEventsAllow = true }).Model!;
        Assert.Equal(["a"], model.Fields.Select(field => field.Field));
        Assert.Equal([new("d", null, LeftOut.TooFewEvents), new Omission("c", null, LeftOut.TooFewEvents)], model.Omitted);
    }

    [Fact]
    public void A_field_that_does_not_vary_and_one_that_repeats_another_are_left_out_by_name()
    {
        var data = Invented(400, i => i % 5 == 0,
            [("a", i => $"{(i / 5) % 2}"), ("same", _ => "x"), ("again", i => (i / 5) % 2 == 0 ? "yes" : "no")]);
        var model = CaseMixFit.Fit(data, new()).Model!;
        Assert.Equal([new("same", null, LeftOut.NoVariation), new Omission("again", "yes", LeftOut.SaidAlready)], model.Omitted);
        Assert.Single(model.Terms);
    }

    [Fact]
    public void Rare_levels_are_pooled_and_missing_is_a_level_that_is_counted()
    {
        // 12 records of two rare levels, 40 without a value, the rest in two levels.
        string? Level(int i) => i < 6 ? "rare" : i < 12 ? "odd" : i < 52 ? null : i < 120 ? "less" : "most";
        var coding = FieldCoding.Learn(Covariate.Code("f", Enumerable.Range(0, 300).Select(Level)),
            [.. Enumerable.Range(0, 300).Select(i => i % 3 == 0)]);
        Assert.Equal("most", coding.Reference);
        Assert.Equal(["less", "missing", "other"], coding.Terms.Select(term => term.Level));
        Assert.Equal(["odd", "rare"], coding.Pooled);
        Assert.Equal(40, coding.MissingRecords);
        Assert.Equal(12, coding.Terms[2].Records);
        // A level never seen counts as other, and is told.
        var later = Covariate.Code("f", ["new", "most", null, "rare"]);
        Assert.Equal([0, 0, 1.0], coding.Row(later, 0));
        Assert.Equal([0, 0, 0.0], coding.Row(later, 1));
        Assert.Equal([0, 1, 0.0], coding.Row(later, 2));
        Assert.Equal([true, false, false, false], Enumerable.Range(0, 4).Select(i => coding.Unseen(later, i)));
    }

    [Fact]
    public void A_level_without_events_is_pooled_and_too_small_a_pool_joins_the_reference()
    {
        var coding = FieldCoding.Learn(Covariate.Code("f", Enumerable.Range(0, 100).Select(i => i < 20 ? "never" : "most")),
            [.. Enumerable.Range(0, 100).Select(i => i >= 50)]);
        Assert.Empty(coding.Terms);
        Assert.True(coding.PooledIsReference);
        Assert.Equal(["never"], coding.Pooled);
    }

    [Fact]
    public void A_quantity_that_is_missing_has_the_mean_and_a_column_that_says_so()
    {
        double?[] values = [.. Enumerable.Range(0, 60).Select(i => i < 20 ? (double?)null : i)];
        var coding = FieldCoding.Learn(Covariate.Quantity("q", values), [.. Enumerable.Range(0, 60).Select(i => i % 2 == 0)]);
        // Mean of 20 to 59, by hand.
        Assert.Equal(39.5, coding.Centre);
        Assert.Equal([39.5, 1], coding.Row(Covariate.Quantity("q", values), 0));
        Assert.Equal([25.0, 0], coding.Row(Covariate.Quantity("q", values), 25));
        var few = FieldCoding.Learn(Covariate.Quantity("q", values.Select((value, i) => i < 3 ? (double?)null : value ?? 1)),
            [.. Enumerable.Range(0, 60).Select(i => i % 2 == 0)]);
        Assert.Single(few.Terms);
        Assert.Equal(3, few.MissingRecords);
    }

    [Fact]
    public void Groups_add_up_and_the_running_sum_ends_at_observed_less_expected()
    {
        var groups = Standardised.Compare([1, 2, 3], [1, 1, 3, 3], [0.2, 0.4, 0.5, 0.5], [true, false, true, true]);
        Assert.Null(groups[1].Ratio);
        Assert.Equal(1 / 0.6, groups[0].Ratio!.Value, 12);
        Data.Near([0.4, 0.4, 1.4], Standardised.Accumulate(groups), 1e-12, "sum");
    }

    private static CaseMixData Invented(int records, Func<int, bool> happened, (string Field, Func<int, string> Level)[] fields) => new(
        [.. Enumerable.Range(0, records).Select(happened)],
        [.. fields.Select(field => Covariate.Code(field.Field, Enumerable.Range(0, records).Select(field.Level)))]);
}
