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
        var model = CaseMixFit.Fit(Birthwt, new()).Model!;
        Assert.Equal(["lwt:", "race:race 3", "race:race 2"], model.Terms.Select(term => $"{term.Field}:{term.Level}"));
        Assert.Equal("race 1", model.Fields[1].Reference);
        // Hosmer and Lemeshow, Table 2.3 (from memory, agreeing with R): race 2 1.081, race 3 0.481, lwt −0.015, constant 0.806. A ridge of
        // ½ with 59 events draws them in by less than a tenth.
        double[] printed = [0.806, -0.015, 0.481, 1.081];
        foreach (var (text, own) in printed.Zip(model.Models.Full.Coefficients.Select(each => each.Value)))
            Assert.InRange(own / text, 0.90, 1.03);
        var plain = Logistic.Fit(model.Rows(Birthwt), Birthwt.Events);
        Data.Near(printed, plain.Coefficients.Select(each => each.Value), 5.01e-4, "coefficient");
        Assert.Equal([67, 26], model.Terms.Skip(1).Select(term => term.Records));
        Assert.Equal(59, model.Expected(Birthwt).Sum(), 7);
    }

    [Fact]
    public void Too_few_events_are_refused_with_the_numbers_that_say_why()
    {
        // 12 of 120 with the event: 15 are the least, whatever the columns.
        var data = Invented(120, i => i % 10 == 0, [("a", i => $"{(i / 10) % 3}"), ("b", i => $"{(i / 30) % 3}")]);
        var fit = CaseMixFit.Fit(data, new());
        Assert.Null(fit.Model);
        Assert.Equal(new Refusal(120, 12, 4, 15), fit.Refusal);
        Assert.Equal(new Refusal(120, 12, 2, 15), CaseMixFit.Fit(data, new() { AsFarAsEventsAllow = true }).Refusal);
    }

    [Fact]
    public void Three_events_a_coefficient_are_enough_and_two_are_not()
    {
        // 18 of 180 with the event; a field of five levels has four columns, two of them with the intercept nine coefficients.
        (string, Func<int, string>)[] fields = [("a", i => $"{i % 6}"), ("b", i => $"{(i / 10) % 6}")];
        var data = Invented(180, i => i % 10 == (i / 30), fields);
        var one = CaseMixFit.Fit(data, new() { AsFarAsEventsAllow = true });
        Assert.Equal(5, one.Model!.Terms.Length);
        Assert.Equal([new("b", null, LeftOut.TooFewEvents)], one.Model.Omitted);
        Assert.Equal(new Refusal(180, 18, 10, 33), CaseMixFit.Fit(data, new()).Refusal);
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
        // 15 events: a takes one column and d four, 18 with the intercept; c, which would fit alone, does not jump the queue of d.
        var data = Invented(300, i => i % 20 == 3,
            [("a", i => $"{(i / 20) % 2}"), ("d", i => $"{(i / 20) % 5}"), ("c", i => $"{(i / 100) % 2}")]);
        var model = CaseMixFit.Fit(data, new() { AsFarAsEventsAllow = true }).Model!;
        Assert.Equal(["a"], model.Fields.Select(field => field.Field));
        Assert.Equal([new("d", null, LeftOut.TooFewEvents), new Omission("c", null, LeftOut.TooFewEvents)], model.Omitted);
    }

    [Fact]
    public void A_field_that_is_seldom_recorded_is_passed_over_and_the_next_is_taken()
    {
        // 30 events, of which 12 have the second field.
        var data = Invented(300, i => i % 10 == 3, [("a", i => $"{(i / 10) % 2}"), ("c", i => $"{(i / 50) % 2}")]);
        var seldom = Covariate.Code("b", Enumerable.Range(0, 300).Select(i => i < 120 ? $"{(i / 10) % 2}" : null));
        data = data with { Given = data.Given.Insert(1, seldom) };
        var model = CaseMixFit.Fit(data, new() { AsFarAsEventsAllow = true }).Model!;
        Assert.Equal(["a", "c"], model.Fields.Select(field => field.Field));
        Assert.Equal([new Omission("b", null, LeftOut.SeldomRecorded)], model.Omitted);
        // A list of one's own is taken whole or not at all.
        Assert.Equal(new Refusal(300, 12, 3, 15), CaseMixFit.Fit(data, new()).Refusal);
    }

    [Fact]
    public void Fields_that_vary_only_where_another_is_missing_make_no_model()
    {
        // Each of two fields is constant among the 100 records that know both.
        var data = new CaseMixData([.. Enumerable.Range(0, 300).Select(i => i % 3 == 0)],
        [
            Covariate.Code("a", Enumerable.Range(0, 300).Select(i => i < 100 ? "x" : i < 200 ? (i % 2 == 0 ? "x" : "y") : null)),
            Covariate.Code("b", Enumerable.Range(0, 300).Select(i => i < 100 ? "x" : i < 200 ? null : i % 2 == 0 ? "x" : "y")),
        ]);
        Assert.Equal(new Refusal(300, 34, 0, 0), CaseMixFit.Fit(data, new()).Refusal);
    }

    [Fact]
    public void Missing_is_no_level_and_a_later_record_without_the_field_has_the_chance_of_the_others()
    {
        // Nine tenths know the field; those without it had the event in 6 of 10, the others in 1 or 3 of 10.
        var data = new CaseMixData([.. Enumerable.Range(0, 400).Select(i => i % 10 < (i < 40 ? 6 : i < 220 ? 1 : 3))],
            [Covariate.Code("f", Enumerable.Range(0, 400).Select(i => i < 40 ? null : i < 220 ? "low" : "high"))]);
        var model = CaseMixFit.Fit(data, new()).Model!;
        Assert.Equal(["low"], model.Terms.Select(term => term.Level));
        var chances = model.Expected(data);
        // All of the baseline: 24 + 18 + 54 of 400, by hand. 72 and 40 × 0.24 events make 81.6 and not 96: with the shift 0.24 × 96 / 81.6,
        // about. A missing level would have given 0.6.
        Assert.InRange(chances[0], 0.27, 0.29);
        Assert.Equal(96, chances.Sum(), 8);
        Assert.Equal((360, 40), (model.Models.FullRecords, model.Rows(data).Count(model.Models.HasMean)));
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
    public void Rare_levels_are_pooled_and_missing_is_counted_but_is_no_level()
    {
        // 12 records of two rare levels, 40 without a value, the rest in two levels.
        string? Level(int i) => i < 6 ? "rare" : i < 12 ? "odd" : i < 52 ? null : i < 120 ? "less" : "most";
        var coding = FieldCoding.Learn(Covariate.Code("f", Enumerable.Range(0, 300).Select(Level)),
            [.. Enumerable.Range(0, 300).Select(i => i % 3 == 0)]);
        Assert.Equal("most", coding.Reference);
        Assert.Equal(["less", "other"], coding.Terms.Select(term => term.Level));
        Assert.Equal(["odd", "rare"], coding.Pooled);
        Assert.Equal(40, coding.MissingRecords);
        Assert.Equal(12, coding.Terms[1].Records);
        // A level never seen counts as other, and is told.
        var later = Covariate.Code("f", ["new", "most", null, "rare", "less"]);
        Assert.Equal([0, 1.0], coding.Row(later, 0));
        Assert.Equal([0, 0.0], coding.Row(later, 1));
        Assert.Equal([double.NaN, double.NaN], coding.Row(later, 2));
        Assert.Equal([1, 0.0], coding.Row(later, 4));
        Assert.Equal([true, false, false, false, false], Enumerable.Range(0, 5).Select(i => coding.Unseen(later, i)));
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
    public void A_quantity_is_one_column_and_has_no_row_where_it_is_missing()
    {
        double?[] values = [.. Enumerable.Range(0, 60).Select(i => i < 20 ? (double?)null : i)];
        var coding = FieldCoding.Learn(Covariate.Quantity("q", values), [.. Enumerable.Range(0, 60).Select(i => i % 2 == 0)]);
        Assert.Equal(new Term("q", null, 40, 20), Assert.Single(coding.Terms));
        Assert.Equal([double.NaN], coding.Row(Covariate.Quantity("q", values), 0));
        Assert.Equal([25.0], coding.Row(Covariate.Quantity("q", values), 25));
        Assert.Equal(20, coding.MissingRecords);
        Assert.Empty(FieldCoding.Learn(Covariate.Quantity("q", values.Select(value => value is null ? (double?)null : 7)),
            [.. Enumerable.Range(0, 60).Select(i => i % 2 == 0)]).Terms);
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
