using System.Collections.Immutable;
using Outcomes.Ingestion.Mapping;
using Outcomes.Records;

namespace Outcomes.Tests.Ingestion;

public class HeadingTests
{
    private const string Row = "R1,2024-01-31,97,icu";

    [Fact]
    public void A_mapped_column_that_is_not_there_is_named_with_the_mapping_s_line_and_a_near_heading()
    {
        var failure = Refused($"record_id,event_date,SpO2_Min,location_type\n{Row}\n", Maps.Small);
        Assert.Equal((ExitCode.Definition, "m.yaml", 4), (failure.Code, failure.File, failure.Line));
        Assert.Contains("did you mean `SpO2_Min`?", failure.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_mapped_heading_that_stands_twice_is_refused_with_both_places()
    {
        var failure = Refused($"record_id,event_date,spo2_min,location_type,spo2_min\n{Row},98\n", Maps.Small);
        Assert.Equal((ExitCode.Definition, 4), (failure.Code, failure.Line));
        Assert.Contains("columns 3, 5", failure.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_heading_that_nobody_mapped_may_stand_twice()
    {
        using var place = new Workplace();
        Assert.Equal(1, place.Read($"record_id,event_date,spo2_min,location_type,x,x\n{Row},,\n").Manifest.Rows);
    }

    [Fact]
    public void Values_under_an_identifying_heading_refuse_the_file_and_are_not_shown()
    {
        var failure = Refused($"record_id,event_date,spo2_min,location_type,Surname\n{Row},\n{Row},Quizzable\n", Maps.Small);
        Assert.Equal((ExitCode.Input, 3), (failure.Code, failure.Line));
        Assert.Contains("column 5 `Surname`", failure.Message, StringComparison.Ordinal);
        Assert.DoesNotContain("Quizzable", failure.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void The_first_identifying_value_is_named_whichever_block_holds_it()
    {
        var text = "record_id,event_date,spo2_min,location_type,DOB\n"
            + string.Concat(Enumerable.Range(0, 60).Select(i => $"{Row},{(i >= 30 ? "x" : "")}\n"));
        for (var size = 20; size < 400; size += 37)
        {
            using var place = new Workplace();
            Assert.Equal(32, Assert.Throws<Failure>(() => place.Read(text, blockSize: size)).Line);
            Assert.Empty(Directory.GetFileSystemEntries(place.Store));
        }
    }

    [Fact]
    public void An_identifying_heading_without_values_passes()
    {
        using var place = new Workplace();
        Assert.Equal(2, place.Read($"record_id,event_date,spo2_min,location_type,NHS number\n{Row},\n{Row}, \u00A0\n").Manifest.Rows);
    }

    // The number lies in the range kept for tests (999 000 0000 and up) and passes modulus 11; see HeaderScreenTests.
    [Theory]
    [InlineData("9990000018")]
    [InlineData("999 000 0018")]
    [InlineData("a.person@example.org")]
    public void A_heading_that_is_itself_an_identifier_is_named_by_its_place_alone(string heading)
    {
        var failure = Refused($"record_id,{heading},event_date,spo2_min,location_type\nR1,,2024-01-31,97,icu\n", Maps.Small);
        Assert.Equal(ExitCode.Input, failure.Code);
        Assert.Contains("column 2", failure.Message, StringComparison.Ordinal);
        Assert.DoesNotContain(heading, failure.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Free_text_that_may_identify_is_not_read()
    {
        var failure = Refused("record_id,event_date,narrative\n", Maps.Of("record_id", "event_date", "narrative"));
        Assert.Equal((ExitCode.Definition, 4), (failure.Code, failure.Line));
        Assert.Contains("may identify", failure.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_mapping_that_cannot_be_meant_is_refused_with_its_line()
    {
        var keys = Maps.Of("record_id", "event_date");
        ColumnMapping Column(string field) => new(field, "x", 7);
        (SourceMapping Mapping, string Words)[] wrong =
        [
            (keys with { Columns = keys.Columns.Add(Column("spo2_mim")) }, "did you mean `spo2_min`?"),
            (keys with { Columns = keys.Columns.Add(Column("record_id")) }, "mapped twice"),
            (keys with { Columns = keys.Columns.Add(Column("spo2_min") with { Unit = "kPa" }) }, "no conversion"),
            (keys with { Columns = keys.Columns.Add(Column("checked") with { Unit = "s" }) }, "no unit"),
            (keys with { Columns = keys.Columns.Add(Column("checked") with { Pattern = "HH:mm" }) }, "no date"),
            (keys with { Columns = keys.Columns.Add(Column("event_time") with { Pattern = "hh:mm" }) }, "no time pattern"),
            (keys with
            { Columns = keys.Columns.Add(Column("location_type") with
            { Codes = ImmutableDictionary<string, string>.Empty.Add("1", "theatre") }) }, "is no value"),
            (keys with { Constants = [new ConstantMapping("location_type", "theatre", 7)] }, "no value of field"),
            (keys with { Constants = [new ConstantMapping("event_date", "2024-01-31", 7)] }, "both a column and a constant"),
            (Maps.Of("event_date") with { Constants = [new ConstantMapping("record_id", "R1", 7)] }, "key"),
            (Maps.Of("event_date"), "`record_id`"),
            (Maps.Of("record_id"), "`event_date`"),
            (keys with { Status = new StatusMapping("state", ["deleted"], 7) }, "no column `state`"),
        ];
        foreach (var (mapping, words) in wrong)
        {
            var failure = Refused("record_id,event_date,x\n", mapping);
            Assert.Equal(ExitCode.Definition, failure.Code);
            Assert.Contains(words, failure.Message, StringComparison.Ordinal);
            if (mapping.Columns.Length + mapping.Constants.Length > 1 || mapping.Status is not null) Assert.Equal(7, failure.Line);
        }
    }

    private static Failure Refused(string text, SourceMapping mapping)
    {
        using var place = new Workplace();
        return Assert.Throws<Failure>(() => place.Read(text, mapping));
    }
}
