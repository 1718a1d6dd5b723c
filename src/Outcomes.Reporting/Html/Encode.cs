using System.Text;
using Outcomes.Records;

namespace Outcomes.Reporting.Page;

/// <summary>The one encoder: whatever a page or a drawing says of a value goes through here.</summary>
public static class Encode
{
    /// <summary>What stands for a character that must not act: a control character or a direction override.</summary>
    private const char Shown = '□';

    /// <summary>Text for element content and quoted attribute values.</summary>
    public static void Html(StringBuilder to, ReadOnlySpan<char> text)
    {
        ArgumentNullException.ThrowIfNull(to);
        foreach (var c in text)
        {
            _ = c switch
            {
                '&' => to.Append("&amp;"),
                '<' => to.Append("&lt;"),
                '>' => to.Append("&gt;"),
                '"' => to.Append("&quot;"),
                '\'' => to.Append("&#39;"),
                _ => to.Append(ActingCharacters.Holds(c) ? Shown : c),
            };
        }
    }

    /// <summary>The text with every character that acts instead of showing made visible.</summary>
    public static string Visible(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        return ActingCharacters.In(text) ? string.Concat(text.Select(one => ActingCharacters.Holds(one) ? Shown : one)) : text;
    }

    /// <summary>A name as part of an id or a file name: small letters, digits, underscores and hyphens only.</summary>
    public static string Slug(string name)
    {
        ArgumentNullException.ThrowIfNull(name);
        var slug = string.Concat(name.Select(c => char.IsAsciiLetterOrDigit(c) || c == '_' ? char.ToLowerInvariant(c) : '-')).Trim('-');
        return slug.Length == 0 ? "x" : slug;
    }
}
