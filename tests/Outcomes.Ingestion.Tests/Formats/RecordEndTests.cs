using System.Text;
using CsCheck;
using Outcomes.Ingestion.Reading;

namespace Outcomes.Tests.Ingestion;

public class RecordEndTests
{
    [Theory]
    [InlineData("", 0)]
    [InlineData("a,b", 0)]
    [InlineData("a,b\nc", 4)]
    [InlineData("a\r\nb\r\n", 6)]
    [InlineData("a\rb", 2)]
    [InlineData("a,\"x\ny\"", 0)]
    [InlineData("a,\"x\ny\"\nb", 8)]
    [InlineData("a,\"x\"\"\ny\"\nb", 10)]
    [InlineData("a\n\"x\ny", 2)]
    public void A_line_break_in_quotes_ends_no_record(string text, int end) => Assert.Equal(end, Last(text).End);

    [Theory]
    [InlineData("5\" tube\nb,c", 8)]
    [InlineData("\"x\" y\"\nb", 7)]
    [InlineData("a, \"x\nb", 6)]
    public void A_quote_inside_a_plain_cell_opens_nothing(string text, int end) => Assert.Equal((end, -1), Last(text));

    // The line feed may be the first byte of the next block: it would look like a blank line there.
    [Theory]
    [InlineData("a\r", 0)]
    [InlineData("a\nb\r", 2)]
    [InlineData("a\r\r", 2)]
    [InlineData("\r\r\r", 2)]
    public void A_carriage_return_at_the_very_end_is_left_for_the_next_block(string text, int end) => Assert.Equal(end, Last(text).End);

    [Fact]
    public void A_file_of_nothing_but_carriage_returns_is_looked_through_once()
    {
        var text = Enumerable.Repeat((byte)'\r', 4 * 1024 * 1024).ToArray();
        Assert.Equal(text.Length - 1, RecordEnd.Last(text, (byte)',', out _));
    }

    [Theory]
    [InlineData("a\n\"x", 2)]
    [InlineData("a,\"x\ny\",\"z\n", 8)]
    [InlineData("\"x\"\"", 0)]
    [InlineData("a,\"x\"\n", -1)]
    public void An_open_quote_is_found_where_it_opens(string text, int open) => Assert.Equal(open, Last(text).Open);

    [Fact]
    public void Ends_where_a_reader_of_single_characters_ends() =>
        Pick.From("a", ",", ";", "\"", "\"\"", "\n", "\r\n", "\r", " ", "é").Array[0, 20].Select(string.Concat).Sample(text =>
        {
            var (end, open) = Last(text);
            var whole = NaiveCsv.Read(text, ',');
            var until = NaiveCsv.Read(Encoding.UTF8.GetString(Encoding.UTF8.GetBytes(text)[..end]), ',');
            var after = NaiveCsv.Read(Encoding.UTF8.GetString(Encoding.UTF8.GetBytes(text)[end..]), ',');
            Assert.Equal(whole.Unclosed > 0, open >= 0);
            Assert.Equal(0, until.Unclosed);
            Assert.Equal(whole.Rows.Select(row => string.Join('|', row.Cells)),
                until.Rows.Concat(after.Rows).Select(row => string.Join('|', row.Cells)));
            Assert.InRange(after.Rows.Count, 0, text.EndsWith('\r') ? 2 : 1);
        });

    [Fact]
    public void Line_breaks_are_counted_as_a_person_counts_them() =>
        Pick.From("a", "\n", "\r\n", "\r").Array[0, 12].Select(string.Concat).Sample(text =>
            RecordEnd.LineBreaks(Encoding.UTF8.GetBytes(text)) == text.Replace("\r\n", "\n", StringComparison.Ordinal)
                .Count(c => c is '\n' or '\r'));

    private static (int End, int Open) Last(string text)
    {
        var end = RecordEnd.Last(Encoding.UTF8.GetBytes(text), (byte)',', out var open);
        return (end, open);
    }
}
