using System.Collections.Immutable;
using System.Globalization;
using Outcomes.Ingestion.Mapping;
using Outcomes.Ingestion.Reading;
using Outcomes.Ingestion.Store;
using Outcomes.Records;

namespace Outcomes.Tests.Ingestion;

public class CellTests
{
    // field, cell, what is stored, rule, reason for a missing value
    [Theory]
    [InlineData("site", "St. Ö", "St. Ö", null, null)]
    [InlineData("site", " north ", "north", null, null)]
    [InlineData("site", "unknown", null, null, "unknown")]
    [InlineData("location_type", "icu", "icu", null, null)]
    [InlineData("location_type", "ICU", null, "not_allowed", "invalid")]
    [InlineData("location_type", "not_applicable", null, null, "not_applicable")]
    [InlineData("checked", "yes", "yes", null, null)]
    [InlineData("checked", "no", "no", null, null)]
    [InlineData("checked", "y", null, "not_allowed", "invalid")]
    [InlineData("checked", "unknown", null, null, "unknown")]
    [InlineData("checked", "", null, null, null)]
    [InlineData("spo2_min", "97", "97", null, null)]
    [InlineData("spo2_min", "100", "100", null, null)]
    [InlineData("spo2_min", "50", "50", null, null)]
    [InlineData("spo2_min", "49", "49", "implausible", null)]
    [InlineData("spo2_min", "20", "20", "implausible", null)]
    [InlineData("spo2_min", "19", null, "out_of_range", "invalid")]
    [InlineData("spo2_min", "101", null, "out_of_range", "invalid")]
    [InlineData("spo2_min", "97%", null, "not_integer", "invalid")]
    [InlineData("spo2_min", "97.0", null, "not_integer", "invalid")]
    [InlineData("spo2_min", "not_applicable", null, null, "not_applicable")]
    [InlineData("preox_min", "3.5", "3.5", null, null)]
    [InlineData("preox_min", "-0", "0", null, null)]
    [InlineData("preox_min", "\"3,5\"", null, "not_number", "invalid")]
    [InlineData("preox_min", "121", null, "out_of_range", "invalid")]
    [InlineData("event_time", "06:00", "360", null, null)]
    [InlineData("event_time", "05:59", null, "out_of_range", "invalid")]
    [InlineData("event_time", "24:00", null, "not_time", "invalid")]
    [InlineData("urgency", "planned", "planned", null, null)]
    [InlineData("urgency", "", null, "missing", null)]
    [InlineData("urgency", "unknown", null, null, "unknown")]
    public void A_cell_is_a_value_or_a_reason(string field, string cell, string? stored, string? rule, string? reason)
    {
        using var place = new Workplace();
        var source = place.Read($"record_id,event_date,{field}\nR1,2024-01-31,{cell}\n", Maps.Of("record_id", "event_date", field));
        Assert.Equal(stored, Assert.Single(Stored.Rows(source.Stored.Records))[field]);
        Assert.Equal(rule is null ? [] : [$"{rule} 2:3 {field}"], Stored.Notes(source));
        Assert.Equal(reason is null ? [] : [$"procedure 0 0 {field} {reason}"], Reasons(source.Stored.Reasons));
    }

    [Theory]
    [InlineData("none", "yes no no")]
    [InlineData("aspiration", "no yes no")]
    [InlineData("dental; aspiration", "no yes yes")]
    [InlineData("none;dental", "yes no yes")]
    [InlineData("", "  ")]
    [InlineData("unknown", "  ", null, "unknown")]
    [InlineData("dental;burn", "  ", "not_allowed", "invalid")]
    [InlineData("dental;unknown", "  ", "not_allowed", "invalid")]
    [InlineData(";", "  ", "not_allowed", "invalid")]
    public void A_set_is_a_yes_or_no_a_value_and_all_missing_when_blank(
        string cell, string stored, string? rule = null, string? reason = null)
    {
        using var place = new Workplace();
        var source = place.Read($"record_id,event_date,complication\nR1,2024-01-31,{cell}\n",
            Maps.Of("record_id", "event_date", "complication"));
        var row = Assert.Single(Stored.Rows(source.Stored.Records));
        Assert.Equal(stored, string.Join(' ', row["complication_none"], row["complication_aspiration"], row["complication_dental"]));
        Assert.Equal(rule is null ? [] : [$"{rule} 2:3 complication"], Stored.Notes(source));
        Assert.Equal(reason is null ? [] : [$"procedure 0 0 complication {reason}"], Reasons(source.Stored.Reasons));
    }

    [Fact]
    public void A_separator_alone_is_no_set_even_where_no_value_says_none()
    {
        var field = new Field("gear", "procedure", FieldType.Set, "", "") { Allowed = ["mask", "gown"] };
        var buffer = new ColumnBuffer(field);
        buffer.Reset(1);
        Assert.Equal(CellRule.NotAllowed, new CellReader(field, null, "m.yaml").Read(";"u8, buffer, 0, out var reason));
        Assert.Equal((ColumnBuffer.Missing, MissingReason.Invalid), (buffer.Ints[0], reason));
    }

    [Fact]
    public void Codes_units_patterns_and_missing_words_of_the_mapping_apply()
    {
        var mapping = new SourceMapping("m.yaml", "codes", new TableLayout(null, false),
        [
            new ColumnMapping("record_id", "Case", 1),
            new ColumnMapping("event_date", "When", 2) { Pattern = "dd/MM/yyyy" },
            new ColumnMapping("location_type", "Where", 3) { Codes = Map(("1", "icu"), ("A&E", "ed"), ("?", "unknown")) },
            new ColumnMapping("preox_min", "Preox (s)", 4) { Unit = "s" },
            new ColumnMapping("spo2_min", "Lowest", 5) { Unit = "1", Missing = Reasons(("-9", MissingReason.NotRecorded)) },
            new ColumnMapping("complication", "Problems", 6) { Split = '+', Codes = Map(("0", "none"), ("T", "dental")) },
        ]);
        using var place = new Workplace();
        var source = place.Read(
            "Case,When,Where,Preox (s),Lowest,Problems\nR1,31/01/2024,1,180,0.97,T+aspiration\nR2,01/02/2024,A&E,90,-9,0\n"
                + "R3,02/01/2024,?,7201,0.19,T\nR4,03/01/2024,ward,,0.29,\n", mapping);
        var rows = Stored.Rows(source.Stored.Records);
        Assert.Equal(["2024-01-31", "2024-02-01", "2024-01-02", "2024-01-03"], rows.Select(row => row["event_date"]));
        Assert.Equal(["icu", "ed", null, "ward"], rows.Select(row => row["location_type"]));
        Assert.Equal(["3", "1.5", null, null], rows.Select(row => row["preox_min"]));
        Assert.Equal(["97", null, null, "29"], rows.Select(row => row["spo2_min"]));
        Assert.Equal(["yes", "no", "yes", null], rows.Select(row => row["complication_dental"]));
        Assert.Equal(
            ["procedure 1 0 spo2_min not_recorded", "procedure 2 0 location_type unknown", "procedure 2 0 preox_min invalid",
                "procedure 2 0 spo2_min invalid"],
            Reasons(source.Stored.Reasons));
        Assert.Equal(["out_of_range 4:4 preox_min", "out_of_range 4:5 spo2_min", "implausible 5:5 spo2_min"], Stored.Notes(source));
    }

    private static readonly FieldDictionary Shipped = FieldDictionary.Shipped;

    // Two cells of the record, two of its attempts, and what says that the heart had stopped, before or after them in the row.
    [Theory]
    [InlineData("0,0,no,no,,success", "- -", "invalid invalid")]
    [InlineData("0,88,,,,", "- 88", "invalid")]
    [InlineData("0,0,yes,no,,success", "0 0", "unrecordable unrecordable")]
    [InlineData("0,0,no,yes,,success", "0 0", "unrecordable unrecordable")]
    [InlineData("0,0,no,no,hypoxaemia;cardiac_arrest,success", "0 0", "unrecordable unrecordable")]
    [InlineData("0,0,no,no,hypoxaemia,arrest", "- 0", "invalid unrecordable")]
    [InlineData("unrecordable,Unrecordable,no,no,,success", "0 0", "unrecordable unrecordable")]
    [InlineData("UNRECORDABLE,unable,no,no,,success", "0 0", "unrecordable unrecordable")]
    [InlineData("19,15,yes,yes,,arrest", "- -", "invalid invalid")]
    public void Too_low_to_measure_is_a_word_or_a_zero_in_an_arrest(string cells, string stored, string reasons)
    {
        var mapping = Maps.Of("record_id", "event_date", "sbp_min", "cardiac_arrest_before", "cardiac_arrest_peri", "indication") with
        {
            Attempts = new WideAttempts("attempt{n}_*",
                [new ColumnMapping("spo2_min", "spo2_min", 9) { Missing = Reasons(("unable", MissingReason.Unrecordable)) }], 8),
        };
        using var place = new Workplace();
        var source = place.ReadShipped(
            "record_id,event_date,sbp_min,attempt1_spo2_min,cardiac_arrest_before,cardiac_arrest_peri,indication,attempt1_outcome\n"
                + $"R1,2024-01-31,{cells}\n", mapping, 0);
        var pressure = Assert.Single(Stored.Rows(source.Stored.Records))["sbp_min"];
        var saturation = Assert.Single(Stored.Rows(source.Stored.Attempts))["spo2_min"];
        Assert.Equal(stored, $"{pressure ?? "-"} {saturation ?? "-"}");
        Assert.Equal(reasons, string.Join(' ', Reasons(source.Stored.Reasons).OrderByDescending(reason => reason[0])
            .Select(reason => reason[(reason.LastIndexOf(' ') + 1)..])));
        Assert.Equal(reasons.Split(' ').Count(reason => reason == "invalid"), Stored.Notes(source).Length);
    }

    [Fact]
    public void Only_what_is_measured_can_be_too_low_to_measure()
    {
        var column = new ColumnMapping("preox_min", "Preox", 7) { Missing = Reasons(("low", MissingReason.Unrecordable)) };
        var field = Shipped.Find(FieldDictionary.Procedure, "preox_min")!;
        var failure = Assert.Throws<Failure>(() => new CellReader(field, column, "m.yaml"));
        Assert.Equal(("m.yaml", 7), (failure.File, failure.Line));
        Assert.Contains("cannot be unrecordable", failure.Message, StringComparison.Ordinal);
    }

    // 0.29 has no binary fraction: 0.29 * 100 in doubles is 28.999999999999996, on the wrong side of a range that starts at 29.
    [Fact]
    public void A_converted_value_does_not_fall_off_the_end_of_its_range()
    {
        var field = new Field("fio2", "procedure", FieldType.Number, "", "") { Unit = "%", Hard = new Interval(29, 57) };
        var reader = new CellReader(field, new ColumnMapping("fio2", "FiO2", 1) { Unit = "1" }, "m.yaml");
        var buffer = new ColumnBuffer(field);
        buffer.Reset(2);
        Assert.Equal(CellRule.None, reader.Read("0.29"u8, buffer, 0, out _));
        Assert.Equal(CellRule.None, reader.Read("0.57"u8, buffer, 1, out _));
        Assert.Equal([29.0, 57.0], buffer.Doubles[..2]);
    }

    [Fact]
    public void A_constant_fills_every_row_and_keeps_its_reason()
    {
        var mapping = Maps.Of("record_id", "event_date") with
        {
            Constants =
            [
                new ConstantMapping("location_type", "ward", 9), new ConstantMapping("spo2_min", "not_applicable", 10),
                new ConstantMapping("site", "north", 11)
            ],
        };
        using var place = new Workplace();
        var source = place.Read("record_id,event_date\nR1,2024-01-31\nR2,2024-01-31\n", mapping);
        Assert.Equal(["ward/north/", "ward/north/"],
            Stored.Rows(source.Stored.Records).Select(row => $"{row["location_type"]}/{row["site"]}/{row["spo2_min"]}"));
        Assert.Equal(["procedure 0 0 spo2_min not_applicable", "procedure 1 0 spo2_min not_applicable"], Reasons(source.Stored.Reasons));
        Assert.Empty(Stored.Notes(source));
        Assert.Contains("spo2_min", source.Stored.ProcedureFields);
    }

    [Fact]
    public void A_finding_s_effect_follows_from_its_rule_its_field_and_strictness()
    {
        var (key, cell) = (Maps.Dictionary.Find("procedure", "record_id"), Maps.Dictionary.Find("procedure", "spo2_min"));
        Assert.Equal(Severity.Warn, CellRules.SeverityOf(CellRule.Implausible, cell, strict: true));
        Assert.Equal(Severity.Warn, CellRules.SeverityOf(CellRule.BrokenQuotes, null, strict: true));
        Assert.Equal(Severity.Blank, CellRules.SeverityOf(CellRule.NotInteger, cell));
        Assert.Equal(Severity.Refuse, CellRules.SeverityOf(CellRule.NotInteger, cell, strict: true));
        Assert.Equal(Severity.Warn, CellRules.SeverityOf(CellRule.Missing, cell));
        Assert.Equal(Severity.Refuse, CellRules.SeverityOf(CellRule.Missing, key));
        Assert.Equal(Severity.Refuse, CellRules.SeverityOf(CellRule.RaggedRow, null));
    }

    [Fact]
    public void A_range_of_dates_or_times_is_explained_in_dates_and_times()
    {
        Assert.Contains("of 2000-01-01 or more;", CellRules.Explain(CellRule.OutOfRange, Maps.Dictionary.Find("procedure", "event_date")),
            StringComparison.Ordinal);
        Assert.Contains("of 06:00 or more;", CellRules.Explain(CellRule.OutOfRange, Maps.Dictionary.Find("procedure", "event_time")),
            StringComparison.Ordinal);
        Assert.Contains("20 to 100 in %", CellRules.Explain(CellRule.OutOfRange, Maps.Dictionary.Find("procedure", "spo2_min")),
            StringComparison.Ordinal);
    }

    [Fact]
    public void Every_rule_has_an_id_of_its_own_and_an_explanation()
    {
        var rules = Enum.GetValues<CellRule>().Where(rule => rule != CellRule.None).ToArray();
        Assert.Equal(rules.Length, rules.Select(CellRules.Id).Distinct().Count());
        Assert.All(rules, rule => Assert.NotEmpty(CellRules.Explain(rule, null)));
    }

    private static string[] Reasons(ImmutableArray<string> files) => files.IsEmpty ? [] :
        [.. Stored.Rows(files).Select(row => string.Create(CultureInfo.InvariantCulture,
            $"{row["tab"]} {row["row"]} {row["attempt_no"]} {row["field"]} {row["reason"]}")).Order(StringComparer.Ordinal)];

    private static ImmutableDictionary<string, string> Map(params (string Word, string Value)[] codes) =>
        codes.ToImmutableDictionary(code => code.Word, code => code.Value);

    private static ImmutableDictionary<string, MissingReason> Reasons(params (string Word, MissingReason Reason)[] words) =>
        words.ToImmutableDictionary(word => word.Word, word => word.Reason);
}
