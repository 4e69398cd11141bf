#define G_LOG_DOMAIN "bw-app"

#include "bw-card.h"

/* A row of widgets through which the Tab key goes as they were put in. GTK goes
 * by where the middle of each lies, which takes the buttons beside a tall card
 * before the card's own title. */

struct _BwCard
{
  GtkWidget parent_instance;
};

G_DEFINE_FINAL_TYPE (BwCard, bw_card, GTK_TYPE_WIDGET)

static gboolean
bw_card_focus (GtkWidget        *widget,
               GtkDirectionType  direction)
{
  GtkWidget *child = gtk_widget_get_focus_child (widget);
  gboolean forward = direction == GTK_DIR_TAB_FORWARD;

  if (!forward && direction != GTK_DIR_TAB_BACKWARD)
    return GTK_WIDGET_CLASS (bw_card_parent_class)->focus (widget, direction);

  if (child == NULL)
    child = forward ? gtk_widget_get_first_child (widget) : gtk_widget_get_last_child (widget);
  while (child != NULL && !gtk_widget_child_focus (child, direction))
    child = forward ? gtk_widget_get_next_sibling (child) : gtk_widget_get_prev_sibling (child);

  return child != NULL;
}

static void
bw_card_dispose (GObject *object)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (object))) != NULL)
    gtk_widget_unparent (child);

  G_OBJECT_CLASS (bw_card_parent_class)->dispose (object);
}

static void
bw_card_class_init (BwCardClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = bw_card_dispose;
  widget_class->focus = bw_card_focus;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BOX_LAYOUT);
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
}

static void
bw_card_init (BwCard *self)
{
  gtk_widget_add_css_class (GTK_WIDGET (self), "card");
}

/**
 * bw_card_new:
 *
 * Returns: (transfer floating): an empty card
 */
GtkWidget *
bw_card_new (void)
{
  return g_object_new (BW_TYPE_CARD, NULL);
}

/**
 * bw_card_append:
 * @self: a card
 * @child: (transfer floating): what comes after all that is in it
 */
void
bw_card_append (BwCard    *self,
                GtkWidget *child)
{
  g_return_if_fail (BW_IS_CARD (self));

  gtk_widget_insert_before (child, GTK_WIDGET (self), NULL);
}
