using System.Text;
using Outcomes.Ingestion;
using Outcomes.Records;

namespace Outcomes.Tests.Ingestion;

public class SourceFileTests
{
    private const string Heading = "record_id,event_date,spo2_min,location_type\n";

    [Fact]
    public void A_file_without_rows_is_read_and_empty()
    {
        using var place = new Workplace();
        var source = place.Read(Heading);
        Assert.Equal((0, 0), (source.Manifest.Rows, source.Manifest.BlankRows));
        Assert.Empty(Stored.Rows(source.Stored.Records));
        Assert.Equal(0, Stored.Keep(Outcomes.Ingestion.Ledgers.DuplicatePolicy.Last, strict: false, source).Total.RowsIn);
    }

    [Theory]
    [InlineData("", "is empty")]
    [InlineData("\uFEFF", "is empty")]
    [InlineData("\n\r\n", "no heading row")]
    [InlineData("record_id,\"event_date\n1,2", "never closed")]
    [InlineData("record_id,event_date,spo2_min,location_type\nR1,\0,,\n", "UTF-8")]
    public void A_file_that_is_no_table_is_refused_in_words(string text, string words) => Refused(Encoding.UTF8.GetBytes(text), words);

    [Fact]
    public void A_file_in_another_encoding_is_refused_in_words()
    {
        var text = Heading + "R1,2024-01-31,97,Würfel\n";
        Refused(Encoding.Unicode.GetBytes(text), "CSV UTF-8");
        Refused(Encoding.Latin1.GetBytes(text), "CSV UTF-8");
        Refused(Encoding.Latin1.GetBytes("Größe," + text), "CSV UTF-8");
    }

    [Fact]
    public void A_NUL_byte_far_into_a_file_is_refused_with_its_line()
    {
        var text = Heading + string.Concat(Enumerable.Repeat("R1,2024-01-31,97,icu\n", 500)) + "R2,2024-01-31,\0,icu\n";
        Assert.Equal(502, Refused(Encoding.UTF8.GetBytes(text), "NUL").Line);
    }

    [Fact]
    public void A_missing_file_is_refused_by_the_name_that_the_pipeline_gives_it()
    {
        using var place = new Workplace();
        var failure = Assert.Throws<Failure>(() => Ingest.Read(
            new SourceRequest("s", 0, Path.Combine(place.Store, "gone.csv"), "data/gone.csv", Maps.Small), Maps.Dictionary, place.Store));
        Assert.Equal((ExitCode.Input, "data/gone.csv"), (failure.Code, failure.File));
        Assert.DoesNotContain(place.Store, failure.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("record_id;event_date;spo2_min;location_type", ';')]
    [InlineData("record_id\tevent_date\tspo2_min\tlocation_type", '\t')]
    [InlineData("record_id;event_date;spo2_min;location_type;\"a,b,c,d,e,f\"", ';')]
    [InlineData("\n\nrecord_id;event_date;spo2_min;location_type", ';')]
    [InlineData("\"record_id\";event_date;spo2_min;location_type;\"two\nlines, of it\"", ';')]
    public void The_heading_tells_the_separator(string heading, char separator)
    {
        using var place = new Workplace();
        var source = place.Read(heading + "\n");
        Assert.Equal((separator, 0), (source.Manifest.Separator, source.Manifest.Rows));
    }

    [Fact]
    public void A_quoted_heading_behind_a_byte_order_mark_may_hold_a_line_break()
    {
        foreach (var size in (int[])[1, 9, 1 << 20])
        {
            using var place = new Workplace();
            var source = place.Read("\uFEFF\"what\nfor\",record_id,event_date\n,R1,2024-01-31\n",
                Maps.Of("record_id", "event_date"), blockSize: size);
            Assert.Equal("3", Assert.Single(Stored.Rows(source.Stored.Records))["line"]);
        }
    }

    [Fact]
    public void Lines_are_where_rows_start_whatever_stands_before()
    {
        using var place = new Workplace();
        var source = place.Read("record_id,event_date,spo2_min,location_type\r\n\r\nR1,2024-01-31,x,\"a\nb\"\r\n,,,\r\n"
            + "R2,2024-01-31\rR3,2024-01-31,97,icu");
        Assert.Equal(["not_integer 3:3 spo2_min", "not_allowed 3:4 location_type", "ragged_row 6:0"], Stored.Notes(source));
        Assert.Equal(["3", "7"], Stored.Rows(source.Stored.Records).Select(row => row["line"]));
        Assert.Equal((3, 2), (source.Manifest.Rows, source.Manifest.BlankRows));
    }

    [Theory]
    [InlineData("5\" tube")]
    [InlineData("\"ab\"c")]
    public void Broken_quotes_are_noted_and_the_row_is_read(string cell)
    {
        using var place = new Workplace();
        var source = place.Read($"record_id,event_date,site\nR0,2024-01-31,\"a\nb\"\nR1,2024-01-31,{cell}\nR2,2024-01-31,ok\n",
            Maps.Of("record_id", "event_date", "site"));
        Assert.Equal(["broken_quotes 4:0"], Stored.Notes(source));
        Assert.Equal(["R0", "R1", "R2"], Stored.Rows(source.Stored.Records).Select(row => row["record_id"]));
    }

    [Theory]
    [InlineData("", "2024-01-31", "missing 2:1 record_id")]
    [InlineData("R1", "", "missing 2:2 event_date")]
    [InlineData("R1", "31/01/2024", "not_date 2:2 event_date")]
    [InlineData("R1", "1999-12-31", "out_of_range 2:2 event_date")]
    [InlineData("LONG", "2024-01-31", "key_too_long 2:1 record_id")]
    public void A_row_with_a_bad_key_or_date_is_held(string key, string date, string note)
    {
        using var place = new Workplace();
        var source = place.Read($"{Heading}{(key == "LONG" ? new string('x', 201) : key)},{date},97,icu\nR2,2024-01-31,97,icu\n");
        Assert.Equal([note], Stored.Notes(source));
        var ledger = Stored.Keep(Outcomes.Ingestion.Ledgers.DuplicatePolicy.Last, strict: false, source);
        Assert.Equal("QA", Stored.Fates(ledger, 0));
        Assert.Equal(note.Split(' ')[0], ledger.RuleOf(0, 0));
    }

    [Fact]
    public void A_key_of_two_hundred_bytes_is_a_key()
    {
        using var place = new Workplace();
        Assert.Empty(Stored.Notes(place.Read($"{Heading}{new string('x', 200)},2024-01-31,97,icu\n")));
    }

    private static Failure Refused(byte[] bytes, string words)
    {
        using var place = new Workplace();
        var failure = Assert.Throws<Failure>(() => place.Read(bytes));
        Assert.Equal(ExitCode.Input, failure.Code);
        Assert.Contains(words, failure.Message, StringComparison.Ordinal);
        return failure;
    }
}
