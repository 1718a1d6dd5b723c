using System.Collections.Immutable;
using CsCheck;
using Outcomes.Ingestion;
using Outcomes.Ingestion.Mapping;
using Outcomes.Ingestion.Reading;
using Outcomes.Ingestion.Store;
using Outcomes.Records;

namespace Outcomes.Tests.Ingestion;

public class DerivedFieldTests
{
    [Fact]
    public void Every_minute_of_the_day_falls_into_the_band_that_holds_it() =>
        Gen.Int[0, 1439].Sample(minute =>
        {
            var hour = minute / 60;
            var expected = hour is >= 8 and < 18 ? "08-18" : hour is >= 18 and < 22 ? "18-22" : "22-08";
            return Banded("hour_band", DeriveFrom.Time, null, $"{hour:00}:{minute % 60:00}") == expected;
        });

    [Fact]
    public void Every_age_falls_into_the_band_that_holds_it() =>
        Gen.Int[0, 120].Sample(age => Banded("age_band", DeriveFrom.Age, null, $"{age}") == age switch
        {
            < 16 => "0-15",
            < 30 => "16-29",
            < 45 => "30-44",
            < 60 => "45-59",
            < 75 => "60-74",
            < 90 => "75-89",
            _ => "90+",
        });

    // 2026-03-07 is a Saturday and 2026-04-06 Easter Monday (from memory; the day of the week by any calendar).
    [Theory]
    [InlineData("07/03/2026", "weekend_holiday")]
    [InlineData("09/03/2026", "weekday")]
    [InlineData("06/04/2026", "weekend_holiday")]
    public void The_kind_of_day_knows_weekends_and_the_holidays_it_is_given(string cell, string expected) =>
        Assert.Equal(expected, Banded("day_type", DeriveFrom.Date, "dd/MM/yyyy", cell, new DateOnly(2026, 4, 6)));

    [Fact]
    public void A_bad_time_or_age_is_a_finding_by_line_and_column_and_nothing_exact_is_stored()
    {
        using var place = new Workplace();
        var mapping = Maps.Of("record_id", "event_date") with
        {
            Text = "derived",
            Columns =
            [
                .. Maps.Of("record_id", "event_date").Columns,
                Derived("hour_band", "Time", DeriveFrom.Time, null) with
                {
                    Missing = ImmutableDictionary<string, MissingReason>.Empty.Add("n/k", MissingReason.Unknown)
                },
                Derived("age_band", "Age", DeriveFrom.Age, null),
            ],
        };
        var source = Ingest.Read(new SourceRequest("s", 0, place.File(
            "record_id,event_date,Time,Age\nR1,2026-01-31,07:41,67\nR2,2026-01-31,25:10,121\nR3,2026-01-31,n/k,6.5\nR4,2026-01-31,,\n"u8
                .ToArray()), "s.csv", mapping), FieldDictionary.Shipped, place.Store);
        Assert.Equal(["not_time 3:3 hour_band", "out_of_range 3:4 age_band", "not_integer 4:4 age_band"], Stored.Notes(source));
        var rows = Stored.Rows(source.Stored.Records);
        Assert.Equal(["22-08 60-74", " ", " ", " "], rows.Select(row => $"{row["hour_band"]} {row["age_band"]}"));
        Assert.DoesNotContain(rows[0].Keys, column => column is "event_time" or "age_years");
        Assert.DoesNotContain(rows.SelectMany(row => row.Values), cell => cell is "07:41" or "67" or "461");
        Assert.Equal(["age_band invalid", "age_band invalid", "hour_band invalid", "hour_band unknown"],
            Stored.Rows(source.Stored.Reasons).Select(row => $"{row["field"]} {row["reason"]}").Order(StringComparer.Ordinal));
    }

    [Fact]
    public void An_exact_value_beside_its_band_is_refused()
    {
        var columns = Maps.Of("record_id", "event_date", "age_years").Columns.Add(Derived("age_band", "age_years", DeriveFrom.Age, null));
        var failure = Assert.Throws<Failure>(() => RowPlan.Make(Maps.Small with { Columns = columns }, FieldDictionary.Shipped,
            ["record_id", "event_date", "age_years"], "x.csv"));
        Assert.Contains("`age_years` would be stored", failure.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Bands_that_leave_a_gap_or_overlap_are_refused()
    {
        foreach (string[] allowed in (string[][])[["08-18", "18-22"], ["08-18", "17-08"], ["day", "night"]])
            Assert.Throws<Failure>(() => new CellReader(new Field("hour_band", "procedure", FieldType.Code, "", "")
            { Allowed = [.. allowed] }, Derived("hour_band", "t", DeriveFrom.Time, null), "m.yaml"));
    }

    [Fact]
    public void The_first_column_that_is_not_blank_counts_and_a_finding_names_it()
    {
        using var place = new Workplace();
        var mapping = Maps.Of("record_id", "event_date", "spo2_min") with { Text = "first of two" };
        mapping = mapping with
        {
            Columns = mapping.Columns.SetItem(2, mapping.Columns[2] with { Column = "monitor", Others = ["chart", "recalled"] })
        };
        var source = place.Read("record_id,event_date,monitor,chart,recalled\nR1,2026-01-31,91,80,70\nR2,2026-01-31, ,85,70\n"
            + "R3,2026-01-31,,,75\nR4,2026-01-31,,,\nR5,2026-01-31,,low,60\n", mapping);
        Assert.Equal(["91", "85", "75", null, null], Stored.Rows(source.Stored.Records).Select(row => row["spo2_min"]));
        Assert.Equal(["not_integer 6:4 spo2_min"], Stored.Notes(source));
    }

    private static ColumnMapping Derived(string field, string column, DeriveFrom from, string? pattern, params DateOnly[] holidays) =>
        new(field, column, 9) { Derive = new Derivation(from, [.. holidays]), Pattern = pattern };

    private static string Banded(string name, DeriveFrom from, string? pattern, string cell, params DateOnly[] holidays)
    {
        var field = FieldDictionary.Shipped.Find(FieldDictionary.Procedure, name)!;
        var buffer = new ColumnBuffer(field);
        buffer.Reset(1);
        Assert.Equal(CellRule.None, new CellReader(field, Derived(name, "c", from, pattern, holidays), "m.yaml")
            .Read(System.Text.Encoding.UTF8.GetBytes(cell), buffer, 0, out _));
        return field.Allowed[buffer.Ints[0]];
    }
}
