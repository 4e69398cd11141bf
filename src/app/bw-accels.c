#define G_LOG_DOMAIN "bw-app"

#include "bw-app-words.h"

#include "bw-accels.h"

const BwAccel bw_accels[] = {
  { "win.undo", { "<Control>z" }, N_("Editing"), N_("Undo") },
  { "win.redo", { "<Control><Shift>z", "<Control>y" }, N_("Editing"), N_("Redo") },
  { "win.copy-rounds", { "<Control><Shift>c" }, N_("Editing"), N_("Copy the rounds as text") },
  { "win.new-design", { "<Control>n" }, N_("Designs"), N_("New design") },
  { "win.open", { "<Control>o" }, N_("Designs"), N_("Open a design file") },
  { "win.save-as", { "<Control>s" }, N_("Designs"), N_("Save as a design file") },
  { "win.publish", { "<Control><Shift>p" }, N_("Designs"), N_("Publish") },
  { "win.print", { "<Control>p" }, N_("Designs"), N_("Print") },
  { "win.library", { "F9" }, N_("Designs"), N_("Show or hide the library") },
  { "win.find", { "<Control>f" }, N_("Designs"), N_("Search the library") },
  { "win.place::designs", { "<Alt>1" }, N_("Places"), N_("Designs") },
  { "win.place::swatches", { "<Alt>2" }, N_("Places"), N_("Swatches") },
  { "win.place::yarns", { "<Alt>3" }, N_("Places"), N_("Yarns") },
  { "win.place::patterns", { "<Alt>4" }, N_("Places"), N_("Patterns") },
  { "win.page::rounds", { "<Control>1" }, N_("Pages"), N_("Rounds") },
  { "win.page::pattern", { "<Control>2" }, N_("Pages"), N_("Written pattern") },
  { "win.page::findings", { "<Control>3" }, N_("Pages"), N_("Findings") },
  { "win.page::yarn", { "<Control>4" }, N_("Pages"), N_("Yarn and cost") },
  { "win.larger-size", { "<Control>Page_Down" }, N_("Hats"), N_("Next larger size") },
  { "win.smaller-size", { "<Control>Page_Up" }, N_("Hats"), N_("Next smaller size") },
  { "win.zoom-in", { "<Control>plus", "<Control>equal" }, N_("Hats"), N_("Larger picture") },
  { "win.zoom-out", { "<Control>minus" }, N_("Hats"), N_("Smaller picture") },
  { "win.zoom-fit", { "<Control>0" }, N_("Hats"), N_("Picture that fits") },
  { "app.new-window", { "<Control><Shift>n" }, N_("Program"), N_("New window") },
  { "win.preferences", { "<Control>comma" }, N_("Program"), N_("Preferences") },
  { "win.keys", { "F1", "<Control>question" }, N_("Program"), N_("Keys") },
  { "window.close", { "<Control>w" }, N_("Program"), N_("Close the window") },
  { "app.quit", { "<Control>q" }, N_("Program"), N_("Quit") },
  { NULL, { NULL }, NULL, NULL },
};

/**
 * bw_accels_bind:
 * @application: the application
 *
 * Binds every key.
 */
void
bw_accels_bind (GtkApplication *application)
{
  for (const BwAccel *accel = bw_accels; accel->action != NULL; accel++)
    {
      const char *const keys[] = { accel->accels[0], accel->accels[1], NULL };

      gtk_application_set_accels_for_action (application, accel->action, keys);
    }
}

static void
append_group (GString    *xml,
              const char *group)
{
  g_autofree char *title = g_markup_escape_text (_(group), -1);

  g_string_append_printf (xml, "<child><object class='GtkShortcutsGroup'>"
                          "<property name='title'>%s</property>", title);
}

static void
append_accel (GString       *xml,
              const BwAccel *accel)
{
  g_autofree char *title = g_markup_escape_text (_(accel->title), -1);
  g_autofree char *keys = g_strjoin (" ", accel->accels[0], accel->accels[1], NULL);
  g_autofree char *escaped = g_markup_escape_text (keys, -1);

  g_string_append_printf (xml, "<child><object class='GtkShortcutsShortcut'>"
                          "<property name='title'>%s</property>"
                          "<property name='accelerator'>%s</property>"
                          "</object></child>", title, escaped);
}

/**
 * bw_accels_window:
 *
 * Returns: (transfer floating): a window that lists every key
 */
GtkWidget *
bw_accels_window (void)
{
  /* Low enough columns would make pages, whose buttons GTK 4.8 warns of: their labels
   * come out less wide than nothing */
  GString *xml = g_string_new ("<interface><object class='GtkShortcutsWindow' id='keys'>"
                               "<property name='modal'>1</property>"
                               "<child><object class='GtkShortcutsSection'>"
                               "<property name='section-name'>keys</property>"
                               "<property name='max-height'>20</property>");
  g_autofree char *text = NULL;
  g_autoptr (GtkBuilder) builder = NULL;

  for (const BwAccel *accel = bw_accels; accel->action != NULL; accel++)
    {
      if (accel == bw_accels || !g_str_equal (accel->group, (accel - 1)->group))
        append_group (xml, accel->group);
      append_accel (xml, accel);
      if (accel[1].action == NULL || !g_str_equal (accel->group, accel[1].group))
        g_string_append (xml, "</object></child>");
    }
  g_string_append (xml, "</object></child></object></interface>");
  text = g_string_free (xml, FALSE);
  builder = gtk_builder_new_from_string (text, -1);

  return g_object_ref (GTK_WIDGET (gtk_builder_get_object (builder, "keys")));
}
